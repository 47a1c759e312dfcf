"""The commands that hand out paper: form, check of the survey, templates for one printer."""

import io
import json
from pathlib import Path

import pdfplumber
import pytest
from click.testing import CliRunner

from hangpost.cli.main import hangpost
from hangpost.generators.hardware.design import Template
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.template_record import drawn_data, template_from
from hangpost.parts.loop import rectangle

MM = 72 / 25.4
DEMO = Path(__file__).parents[2] / "cli" / "demo.toml"


@pytest.fixture
def run(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    def call(*args: str):
        return CliRunner().invoke(hangpost, list(args), standalone_mode=False)

    return call


def drilled(**changes) -> Template:
    from hangpost.generators.hardware.design import Drilling

    holes = tuple(
        Drilling(
            name=n, u=u, v=v, diameter=11.0, pilot=6.0, depth=d, slot_length=8.0, slot_angle=90.0
        )
        for n, u, v, d in (("A", 20.5, 31.0, 0.0), ("B", 88.25, -30.0, 75.0))
    )
    values = {
        "id": "face",
        "part_id": "part",
        "face": "a face",
        "datum": "an edge",
        "holes": holes,
        "outline": rectangle(5, -50, 100, 50, 6),
        "edges": (0.0, 139.7),
        "edge_names": ("near", "far"),
        "height": 700.0,
        "left_side": "leaf",
        "right_side": "away",
        "facing": "yard side",
        "through": True,
        "depth": 139.7,
    }
    return Template(**{**values, **changes})


def manifest_of(template: Template) -> dict:
    """What pack.json says of a template, as design.md section 8 has it, with the rest beside it."""
    return {
        "id": template.id,
        "part": template.part_id,
        "face": template.face,
        "datum": template.datum,
        "height": template.height,
        "wrap_diameter": template.wrap_diameter,
        "holes": [
            {
                **{"name": h.name, "at": [h.u, h.v], "diameter": h.diameter, "pilot": h.pilot},
                **{"depth": h.depth, "slot_length": h.slot_length, "slot_angle": h.slot_angle},
            }
            for h in template.holes
        ],
        "papers": [{"paper": "letter"}],
        "drawn": drawn_data(template, Shop()),
    }


def write_pack(folder: Path, *templates: Template) -> Path:
    folder.mkdir()
    data = {
        **{"hangpost": "0.1.0", "job": "Invented gate", "site_sha256": "9a" * 32},
        "templates": [manifest_of(t) for t in templates],
    }
    (folder / "pack.json").write_text(json.dumps(data), encoding="utf-8")
    return folder


@pytest.mark.parametrize("changes", [{}, {"wrap_diameter": 88.9, "edges": (), "edge_names": ()}])
def test_a_template_survives_the_manifest(changes):
    template = drilled(**changes)
    assert template_from(json.loads(json.dumps(manifest_of(template)))) == template


def test_templates_of_a_pack_come_out_true_on_the_printer_that_was_measured(run, tmp_path):
    pack = write_pack(tmp_path / "pack", drilled())
    done = run("templates", str(pack), "--printed", "149.2x199.1", "-o", "true.pdf")

    assert done.return_value == 0, done.output
    with pdfplumber.open(io.BytesIO(Path("true.pdf").read_bytes())) as read:
        page = read.pages[0]
        level = [(o["x1"] - o["x0"]) / MM * 149.2 / 150 for o in page.lines]
        rings = [
            c
            for c in page.curves
            if abs((c["x1"] - c["x0"]) / MM * 149.2 / 150 - 11.0) < 0.02
            and abs((c["bottom"] - c["top"]) / MM * 199.1 / 200 - 11.0) < 0.02
        ]
        text = page.extract_text()
    assert "COMPENSATED FOR PRINTER (149.2 x 199.1 mm)" in text
    assert "9a9a9a9a9a9a" in text
    assert min(abs(length - 150) for length in level) < 0.02
    middles = sorted(
        (
            (c["x0"] + c["x1"]) / 2 / MM * 149.2 / 150,
            -(c["top"] + c["bottom"]) / 2 / MM * 199.1 / 200,
        )
        for c in rings
    )
    (ax, ay), (bx, by) = middles
    assert (bx - ax, by - ay) == pytest.approx((67.75, -61.0), abs=0.05)


@pytest.mark.parametrize(
    "printed", ["149.2", "149x", "x", "149.2x199.1x3", "5.9x7.8", "199.1x149.2", "nanxnan", "0x0"]
)
def test_what_no_printer_does_is_refused(run, tmp_path, printed):
    pack = write_pack(tmp_path / "pack", drilled())
    done = run("templates", str(pack), "--printed", printed, "-o", "x.pdf")

    assert type(done.exception).__name__ == "BadParameter"
    assert "--printed" in str(done.exception.format_message())
    assert not Path("x.pdf").exists()


@pytest.mark.parametrize(
    "content", ["", "[]", "{}", '{"templates": [{}]}', '{"templates": []}', "\x00"]
)
def test_a_folder_that_is_no_pack_is_refused_in_words(run, tmp_path, content):
    (tmp_path / "pack").mkdir()
    (tmp_path / "pack" / "pack.json").write_text(content, encoding="utf-8")
    done = run("templates", str(tmp_path / "pack"), "--printed", "150x200", "-o", "x.pdf")

    assert type(done.exception).__name__ == "SurveyError"
    assert "cannot be used" in str(done.exception)


def test_templates_do_not_overwrite(run, tmp_path):
    pack = write_pack(tmp_path / "pack", drilled())
    Path("mine.pdf").write_bytes(b"mine")
    done = run("templates", str(pack), "-o", "mine.pdf")

    assert isinstance(done.exception, FileExistsError)
    assert Path("mine.pdf").read_bytes() == b"mine"


@pytest.mark.parametrize(("units", "size"), [("in", (612, 792)), ("mm", (595.276, 841.89))])
def test_survey_form_is_written_on_the_countrys_paper(run, units, size):
    done = run("survey-form", "--units", units, "-o", "form.pdf")

    assert done.return_value == 0, done.output
    with pdfplumber.open(io.BytesIO(Path("form.pdf").read_bytes())) as read:
        (page,) = read.pages
        assert (float(page.width), float(page.height)) == pytest.approx(size, abs=0.01)


def test_survey_check_names_the_slip(run):
    from hangpost.generators.survey.check_sizes import site_readings
    from hangpost.generators.survey.reading import site_from_bytes

    site = site_from_bytes(DEMO.read_bytes())
    base = site_readings(site, site.leaves[0])
    near = (base["hinge.to_leaf_face"] ** 2 + base["hinge.to_actuator_face"] ** 2) ** 0.5
    far = base["hinge.to_leaf_face"] + base["post.width"]
    corner = (far**2 + base["hinge.to_actuator_face"] ** 2) ** 0.5
    text = (
        f'hinge_to_near_corner = "{near} mm"\nhinge_to_far_post_face = "{far} mm"\n'
        f'hinge_to_far_corner = "{corner} mm"\n'
    )
    Path("good.toml").write_text(text, encoding="utf-8")
    Path("bad.toml").write_text(text.replace(f"{near} mm", f"{near + 25.4} mm"), encoding="utf-8")

    good, bad = (run("survey-check", str(DEMO), f"{n}.toml") for n in ("good", "bad"))
    assert good.return_value == 0 and "agree" in good.output
    assert bad.return_value == 1 and "check.hinge_to_near_corner is probably wrong" in bad.output


def test_survey_check_tells_a_misspelt_key(run):
    Path("c.toml").write_text('hinge_to_near_coner = "4"\n', encoding="utf-8")
    done = run("survey-check", str(DEMO), "c.toml")

    assert type(done.exception).__name__ == "SurveyError"
    assert 'did you mean "hinge_to_near_corner"?' in str(done.exception)


@pytest.mark.parametrize("line", ["post_diagonal = -1", "leaf_diagonal = 0", "leaf = true"])
def test_survey_check_refuses_what_no_tape_shows(run, line):
    Path("c.toml").write_text(f"{line}\n", encoding="utf-8")
    done = run("survey-check", str(DEMO), "c.toml")

    assert type(done.exception).__name__ == "SurveyError"
    assert line in str(done.exception) and "; allowed: " in str(done.exception)


def test_templates_of_a_pack_that_failed_say_so_on_every_sheet(run, tmp_path):
    """Issued again or not: nobody drills for hardware that does not hold."""
    pack = write_pack(tmp_path / "pack", drilled())
    file = pack / "pack.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    data["checks"] = [{"id": "a", "status": "fail"}, {"id": "b", "status": "warn"}]
    file.write_text(json.dumps(data), encoding="utf-8")
    done = run("templates", str(pack), "-o", "again.pdf")

    assert done.return_value == 0, done.output
    with pdfplumber.open("again.pdf") as pdf:
        for page in pdf.pages:
            assert "1 CHECK FAILS: DO NOT MAKE, DRILL OR FIT" in page.extract_text()
