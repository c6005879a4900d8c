"""The rarer faults: common practice, no source."""

from labkit.geometry.length import length
from labkit.teaching.faults.hand_in import (
    at_left,
    having,
    marked,
    naming,
    short_bleed,
    stating,
    twice,
)
from labkit.teaching.faults.sorts import Fault

RARER = (
    Fault(
        "enlarged from fewer pixels",
        2,
        "ask",
        "It says 300 ppi, but it was blown up from a smaller file, so it will look soft. Have you the "
        "original?",
        ("enlarged",),
        (having(enlarged=2.0), having(enlarged=3.0), having(enlarged=4.0)),
    ),
    Fault(
        "two resolutions",
        2,
        "send back",
        "The file states one resolution across and another down, so it would print stretched. Set one "
        "for both.",
        ("resolution-unequal",),
        (stating(300, 150), stating(300, 299)),
    ),
    Fault(
        "only the shape of a pixel",
        2,
        "send back",
        "The file says what shape its pixels are but not how many go to an inch, so it has no size on "
        "paper. Set the resolution without resampling.",
        ("resolution-shape",),
        (having(unit=1), having(unit=1, states=(4, 3))),
    ),
    Fault(
        "two pages",
        2,
        "send back",
        "There are two pages in this file, and I can print only the one you mean. Save that one alone.",
        ("several-pages",),
        (having(pages=2),),
    ),
    Fault(
        "BigTIFF",
        2,
        "ask",
        "It was saved in a form for enormous files that not every program opens. Can you save it again as "
        "an ordinary TIFF?",
        ("bigtiff",),
        (having(big=True),),
    ),
    Fault(
        "lossy packing in a TIFF",
        2,
        "ask",
        "It is a TIFF, but packed as a JPEG inside, which smears fine detail. Have you the original? Then "
        "save that with LZW; if this is all there is, I can print it.",
        ("compression",),
        (having(packing="jpeg"), having(packing="jpeg", quality=80)),
    ),
    Fault(
        "paper that is not white",
        2,
        "ask",
        "The white round your picture is not quite white, and prints as a tint with an edge. Is that meant? "
        "If not, fill the sheet with pure white.",
        ("surround",),
        (
            having(surround=(250, 250, 250)),
            having(surround=(254, 254, 254)),
            having(surround=(250, 249, 246)),
        ),
    ),
    Fault(
        "marks on the paper",
        2,
        "ask",
        "There are marks outside your picture, and they would be printed. Are they meant to be there?",
        ("stray-marks",),
        (marked(3, 8, 8), marked(1, 60, 5), marked(6, 5, 5)),
    ),
    Fault(
        "too little bleed",
        2,
        "send back",
        "The picture stops short of the bleed on one side, so a cut a little off would show white. Make "
        "it a little larger.",
        ("bleed-short",),
        (short_bleed(length("1/16in")), short_bleed(length("1/8in"))),
        at="trim",
    ),
    Fault(
        "in the edge the printer cannot reach",
        2,
        "send back",
        "It comes nearer to the edge of the sheet than the printer can print, and would be cut off. "
        "Leave a wider border.",
        ("unprintable", "unusual-place"),
        (at_left(length("2mm")), at_left(length("1mm")), at_left(length("2.5mm"))),
    ),
    Fault(
        "a printer's profile in the file",
        2,
        "ask",
        "The profile in it is one of a printer. Was it converted for printing already? Then its colours "
        "would be converted twice: I need the file from before.",
        ("profile-class",),
        (having(profile="printer"),),
    ),
    Fault(
        "another size in the name",
        2,
        "ask",
        "The name says one size and the file has another. Which of the two do you want?",
        ("name-size",),
        (naming("11x17in"), naming("13x19in")),
    ),
    Fault(
        "cut short",
        2,
        "send back",
        "Part of the file is missing: it broke off while it was copied. Export it again, and open it "
        "once before you hand it in.",
        ("damaged",),
        (having(kept=0.6), having(kept=0.3), having(kept=0.9)),
    ),
    Fault(
        "grey from some line on",
        2,
        "send back",
        "The lower part is one flat grey: the file broke, and was saved again as it was. Go back to your "
        "original.",
        ("damaged",),
        (having(grey=0.5), having(grey=0.3), having(grey=0.7)),
    ),
    Fault(
        "the same picture twice",
        2,
        "ask",
        "The same picture was handed in under another name as well. Whose is it, and do you want it "
        "twice?",
        ("same-picture",),
        (twice("Ilse Moor", "Evening"), twice("Tam Alder", "Untold")),
    ),
)
