"""16 bits a channel all the way, by tifffile, libtiff and libvips; colours against colour-science."""

import colour
import numpy as np
import pytest
import tifffile
from PIL import Image

from labkit.files.header.reading import read_picture
from labkit.files.pixels.conversion import conversion, srgb_profile
from labkit.files.pixels.deep import to_8_bits
from labkit.files.pixels.difference import delta_e
from labkit.files.pixels.transform import lab_of
from labkit.files.writing import strips
from tests.files import make, sheets
from tests.peers import by_vips

SIZE = (60, 40)
AT_100 = {"on": "5x4in", "width": "3in"}


@pytest.fixture(autouse=True)
def small_strips(monkeypatch):
    """Strips of a few rows, so that small sheets have many."""
    monkeypatch.setattr(strips, "STRIP_BYTES", 4000)


def noise(channels: int) -> np.ndarray:
    values = np.random.default_rng(channels).integers(0, 65536, (*SIZE[::-1], channels), np.uint16)
    return values[..., 0] if channels == 1 else values


def saved(path, values, **options):
    """A TIFF, or a PNG by its ending, of 16 bits."""
    if path.suffix == ".png":
        import imagecodecs

        path.write_bytes(imagecodecs.png_encode(values))
        return path
    options.setdefault("photometric", "minisblack" if values.ndim == 2 else "rgb")
    tifffile.imwrite(path, values, metadata=None, **options)
    return path


def laid(path, picture, depth=16, packing="Deflate", **placed):
    """The picture's place on the sheet, as tifffile reads it; all else is white."""
    _, raster, _ = sheets.print_file(
        path, picture, depth=depth, packing=packing, **(AT_100 | placed)
    )
    whole, box = tifffile.imread(path), raster.picture
    part = whole[box.top : box.bottom, box.left : box.right].copy()
    whole[box.top : box.bottom, box.left : box.right] = np.iinfo(whole.dtype).max
    assert (whole == np.iinfo(whole.dtype).max).all()
    return part


@pytest.mark.parametrize("packing", ["Deflate", "LZW"])
@pytest.mark.parametrize(
    ("name", "channels", "options"),
    [
        ("a.tif", 3, {}),
        ("a.tif", 3, {"byteorder": ">"}),
        ("a.tif", 3, {"compression": "zlib", "predictor": True}),
        ("a.tif", 1, {}),
        ("a.tif", 1, {"photometric": "miniswhite"}),
        ("a.png", 3, {}),
        ("a.png", 1, {}),
    ],
    ids=str,
)
def test_at_100_percent_every_bit_is_on_the_sheet(tmp_path, packing, name, channels, options):
    values = noise(channels)
    picture = saved(tmp_path / name, values, **options)
    got = laid(tmp_path / "made.tif", picture, packing=packing)
    wanted = 65535 - values if "photometric" in options else values
    assert got.dtype == np.uint16
    assert np.array_equal(got, wanted if channels == 3 else np.dstack([wanted] * 3))
    assert np.array_equal(by_vips(tmp_path / "made.tif"), tifffile.imread(tmp_path / "made.tif"))


@pytest.mark.parametrize("orientation", range(2, 9))
def test_a_turned_picture_is_laid_upright_bit_for_bit(tmp_path, orientation):
    tags = [(274, 3, 1, orientation, True)]
    picture = saved(tmp_path / "a.tif", noise(3), extratags=tags)
    got = laid(tmp_path / "made.tif", picture, on="5x5in")
    assert np.array_equal(got, by_vips(picture, "autorot"))


def test_a_part_of_a_picture_is_those_pixels(tmp_path):
    picture = saved(tmp_path / "a.tif", noise(3))
    square = {"on": "5x5in", "width": "4in", "height": "4in", "fill": True, "crop_at": "1,0"}
    assert np.array_equal(laid(tmp_path / "made.tif", picture, **square), noise(3)[:, 20:])


@pytest.mark.parametrize("name", ["a.tif", "a.png"])
def test_alpha_is_laid_on_white_at_16_bits(tmp_path, name):
    values = noise(4)
    options = {"extrasamples": ["unassalpha"]} if name == "a.tif" else {}
    got = laid(tmp_path / "made.tif", saved(tmp_path / name, values, **options))
    share = values[..., 3:] / 65535
    assert np.abs(got - (values[..., :3] * share + 65535 * (1 - share))).max() <= 0.5001


def test_the_form_of_the_file(tmp_path):
    """TIFF 6.0: BitsPerSample, Predictor; Compression 8 is deflate (TIFF technical notes of 2002)."""
    laid(tmp_path / "made.tif", saved(tmp_path / "a.tif", noise(3)))
    with tifffile.TiffFile(tmp_path / "made.tif") as file:
        tags = file.pages[0].tags
        wanted = {258: (16, 16, 16), 259: 8, 262: 2, 277: 3, 284: 1, 317: 2}
        assert {code: tags[code].value for code in wanted} == wanted
    told = sheets.tiffinfo(tmp_path / "made.tif")
    assert "Compression Scheme: AdobeDeflate" in told
    assert "Warning" not in told


# The last step only


def test_8_bits_are_made_of_16_at_the_very_last(tmp_path):
    """At 100 %, and resampled: what is written is the nearest level of what 16 bits hold."""
    picture = saved(tmp_path / "a.tif", noise(3))
    for resample in (None, 13, 47):
        deep = laid(tmp_path / f"deep {resample}.tif", picture, resample=resample)
        made = laid(tmp_path / f"made {resample}.tif", picture, 8, "LZW", resample=resample)
        assert np.array_equal(made, to_8_bits(deep))


def test_a_smooth_slope_keeps_more_tones_than_8_bits_have(tmp_path):
    slope = np.linspace(20000, 24000, 400).astype(np.uint16)
    values = np.tile(slope[None, :, None], (80, 1, 3))
    got = laid(tmp_path / "made.tif", saved(tmp_path / "a.tif", values), resample=60)
    assert len(np.unique(got)) > 150
    assert len(np.unique(to_8_bits(got))) < 20


def test_strips_resampled_apart_make_one_picture(tmp_path):
    """Against the whole picture resized at once: rounding of where a strip begins is all that is left."""
    smooth = np.cumsum(np.random.default_rng(2).integers(-300, 301, (*SIZE[::-1], 3)), 1)
    values = (32768 + smooth).clip(0, 65535).astype(np.uint16)
    got = laid(tmp_path / "made.tif", saved(tmp_path / "a.tif", values), resample=37)
    plane = Image.fromarray(values[..., 0].astype(np.float32))
    wanted = np.asarray(plane.resize((got.shape[1], got.shape[0]), Image.Resampling.LANCZOS))
    assert np.abs(got[..., 0] - wanted).max() < 40


# Grey through its profile


def test_grey_through_its_profile_by_another_library(tmp_path):
    """colour-science, ``eotf_inverse_sRGB`` of v^2.2: within 3 counts of 65535."""
    values = np.linspace(0, 65535, SIZE[0] * SIZE[1]).astype(np.uint16).reshape(SIZE[::-1])
    picture = saved(tmp_path / "a.tif", values, iccprofile=make.grey_profile())
    got = laid(tmp_path / "made.tif", picture)
    wanted = colour.models.eotf_inverse_sRGB((values / 65535) ** 2.2) * 65535
    wanted = np.dstack([wanted] * 3)
    assert np.abs(got - wanted).max() <= 3
    labs = (lab_of(rgb.astype(np.float32) / 65535, srgb_profile()) for rgb in (got, wanted))
    assert delta_e(*labs).max() < 0.01
    assert len(np.unique(got)) > 2000


def test_rgb_keeps_its_numbers_and_its_profile(tmp_path):
    wide = make.rgb_profile()
    picture = saved(tmp_path / "a.tif", noise(3), iccprofile=wide)
    assert conversion(read_picture(picture), sheets.shipped().colour).profile == wide
    assert np.array_equal(laid(tmp_path / "made.tif", picture), noise(3))


# 8 bits on a sheet of 16


@pytest.mark.parametrize("mode", ["RGB", "L", "P", "CMYK"])
@pytest.mark.parametrize("resample", [None, 31])
def test_a_picture_of_8_bits_is_the_same_picture_at_16(tmp_path, mode, resample):
    profile = sheets.cmyk_profile() if mode == "CMYK" else None
    picture = make.picture(tmp_path / "a.tif", mode=mode, profile=profile)
    deep = laid(tmp_path / "deep.tif", picture, resample=resample)
    plain = laid(tmp_path / "plain.tif", picture, 8, "LZW", resample=resample)
    assert (deep.dtype, plain.dtype) == (np.uint16, np.uint8)
    off = np.abs(deep / 257 - plain)
    if resample is None:
        assert off.max() == 0
        return
    assert off.mean() < 0.3
    if mode != "RGB":
        assert off.max() < 6
        return
    # at 8 bits Pillow rounds and clips across before it goes down, and of the whole picture no less
    by_pillow = np.asarray(
        Image.open(picture).resize(plain.shape[1::-1], Image.Resampling.LANCZOS), int
    )
    assert np.abs(plain - by_pillow).max() <= 1
    assert off[np.abs(deep / 257 - by_pillow) < 6].max() < 6
