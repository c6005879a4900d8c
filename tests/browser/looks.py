"""What a page says of its own looks: sizes, what is cut off, contrasts, one view."""

TARGETS = """app => [...app.querySelectorAll('button, select, input, summary, .noUi-handle')]
    .filter(each => each.checkVisibility() && each.type !== 'file')
    .map(each => [each.outerHTML.slice(0, 120), each.getBoundingClientRect()])
    .filter(([, box]) => box.width < %d || box.height < %d).map(([what]) => what)"""
WIDER = """app => {
    const out = [], limit = document.querySelector('.jp-WindowedPanel-outer').clientWidth;
    for (const each of app.querySelectorAll('*')) {
        const style = getComputedStyle(each), html = each instanceof HTMLElement;
        if (!html || style.position === 'absolute' || each.closest('.noUi-target, svg')) continue;
        const cut = style.overflowX !== 'visible' && each.tagName !== 'SELECT' && each.tagName !== 'INPUT';
        if (cut && each.scrollWidth > each.clientWidth + 1) out.push('cut: ' + each.outerHTML);
    }
    const page = document.querySelector('.jp-WindowedPanel-outer');
    if (app.getBoundingClientRect().right > page.getBoundingClientRect().right) out.push('app');
    if (page.scrollWidth > page.clientWidth) out.push('page');
    return out.map(each => each.slice(0, 200));
}"""
CONTRASTS = """app => {
    const canvas = document.createElement('canvas').getContext('2d', {willReadFrequently: true});
    const rgb = colour => {
        canvas.clearRect(0, 0, 1, 1); canvas.fillStyle = colour; canvas.fillRect(0, 0, 1, 1);
        return [...canvas.getImageData(0, 0, 1, 1).data];
    };
    const light = ([r, g, b]) => [r, g, b].map(v => v / 255)
        .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
        .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
    const behind = each => {
        for (let at = each; at; at = at.parentElement) {
            const colour = rgb(getComputedStyle(at).backgroundColor);
            if (colour[3] === 255) return colour;
        }
        return [255, 255, 255, 255];
    };
    const told = [...app.querySelectorAll(
        '.widget-label, button, select, input[type=text], p, li, h4, summary, .labkit-readings span, '
        + '.labkit-readings b, .labkit-message')];
    return told.filter(each => each.checkVisibility() && (each.textContent || each.value)).map(each => {
        const ink = rgb(getComputedStyle(each).color);
        const [low, high] = [light(ink), light(behind(each))].sort((a, b) => a - b);
        return [each.textContent.slice(0, 40), (high + 0.05) / (low + 0.05)];
    });
}"""
VIEW = """output => {
    const shown = output.querySelector('.labkit-app') ?? output.querySelector('img');
    if (!shown) return null;
    const box = shown.getBoundingClientRect(), out = [];
    const inside = (part, what) => {
        const at = part.getBoundingClientRect();
        if (at.left < box.left - 1 || at.right > box.right + 1 || at.bottom > box.bottom + 1) out.push(what);
    };
    for (const each of shown.querySelectorAll('.labkit-stage > svg')) inside(each, 'the drawing is cut');
    for (const each of shown.querySelectorAll('.labkit-side')) inside(each, 'the controls are cut');
    if (box.right > output.getBoundingClientRect().right + 1) out.push('wider than the notebook');
    return [box.height, out];
}"""
