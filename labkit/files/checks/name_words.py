"""Words and numbers that devices, programs and people in a hurry put into any name."""

import re
from collections.abc import Sequence

_ANYWHERE = """
    img image images pic pict picture photo photograph photos snap shot capture screen screenshot
    scan scanned scanner document doc file page sheet frame layer slide video clip panorama
    untitled unnamed noname new blank test temp tmp download received attachment export exported
    output print printed copy final finally last latest draft version ver rev revised edit edited
    merged flat flattened the of at am pm no nr
    unbenannt bild foto kopie von neu sans titre copie de nouveau imagen imagem captura pantalla
    copia sin título senza titolo immagine скриншот фото снимок изображение копия
    無題 未命名 无标题 新建 截图 截圖 スクリーンショット 画像 照片 图片 图像 صورة لقطة 사진 제목없음
    tif tiff jpg jpeg png heic pdf
"""
"""Words that programs, cameras, phones and scanners put into names, and people in a hurry (common
practice, no source)."""
_NOTHING = frozenset(_ANYWHERE.split())
_IDENTIFIER = re.compile(r"(?=.*\d)[0-9a-f]{8,}(?:[ -][0-9a-f]{4,})*", re.I)
_RUNNING = 3
"""A running number has three digits at least; the four of a camera's are those of the Design rule for
Camera File system, which puts four free characters before them (from memory)."""


def says_nothing(pieces: Sequence[str]) -> bool:
    """Whether a name is numbers, letters before a running number, or words that are put into any name."""
    text = " ".join(pieces)
    if _IDENTIFIER.fullmatch(text):
        return True
    words = re.findall(r"[^\W\d_]+|\d+", text)
    has_number = any(len(word) >= _RUNNING for word in words if word.isdigit())
    return bool(words) and all(
        word.isdigit()
        or word.casefold() in _NOTHING
        or (len(word) == 1 and len(words) > 1)
        or (has_number and _is_prefix(word))
        for word in words
    )


def has_running_number(pieces: Sequence[str]) -> bool:
    """Whether a number in a name is as long as those that devices count with."""
    return any(len(digits) >= _RUNNING for digits in re.findall(r"\d+", " ".join(pieces)))


def _is_prefix(word: str) -> bool:
    """Capitals, or letters no word is made of, such as stand before a running number."""
    is_short = len(word) <= 4 and word.isascii()
    return is_short and (word.isupper() or not re.search("[aeiouy]", word, re.I))
