"""DXF: an independent audit is clean, dimensions are dimensions and measure the model, hatches are hatches."""

import io

import ezdxf
import pytest

from crownwright.sheets.draw.dxf import dxf
from crownwright.sheets.draw.layers import BOARD, CAP_CUT, LAYERS
from crownwright.sheets.draw.shapes import (
    AngleDimension,
    Arc,
    Circle,
    Dimension,
    Drawing,
    Hatch,
    Leader,
    Line,
    Polygon,
    Symbol,
    Text,
)

SQUARE = ((0.0, 0.0), (1.27, 0.0), (1.27, 1.016), (0.0, 1.016))
SHAPES = (
    *(Polygon(CAP_CUT, SQUARE, hatch=kind) for kind in Hatch),
    Dimension((0, 0), (1.27, 0), -10, '50"'),
    Dimension((0, 0), (1.27, 1.016), 10, '40"', along=90.0),
    Dimension((1.27, 1.016), (0, 0), 10, 'the "diagonal"'),
    AngleDimension((0, 0), (1, 0), (0, 1), 12, "90°"),
    Line(BOARD, (0, 0), (1, 1)),
    Circle(BOARD, (0, 0), 0.2),
    Arc(BOARD, (0, 0), 0.3, 10, 80),
    Leader((0.5, 0.5), (10, 10), "concrete"),
    Symbol("balloon", (0, 0), "1"),
    Text((0, 0), "½ in. lip", turn=30.0),
)
DRAWING = Drawing("trial", "A trial", "A square.", 12.0, "1 in. = 1 ft", SHAPES)


@pytest.fixture(scope="module", params=["in", "mm"])
def document(request):
    return request.param, ezdxf.read(io.StringIO(dxf(DRAWING, request.param)))


def test_the_audit_is_clean(document):
    auditor = document[1].audit()
    assert (auditor.errors, auditor.fixes) == ([], [])
    assert document[1].dxfversion == "AC1024"  # R2010


def test_dimensions_measure_the_model_with_a_factor_of_one(document):
    unit, file = document
    size = {"in": 0.0254, "mm": 0.001}[unit]
    found = sorted(d.get_measurement() for d in file.modelspace().query("DIMENSION") if d.dimtype != 5)
    diagonal = (1.27**2 + 1.016**2) ** 0.5
    assert found == pytest.approx(sorted([1.27 / size, 1.016 / size, diagonal / size]))
    style = file.dimstyles.get("TAPE")
    assert style.dxf.dimlfac == 1.0


def test_hatches_layers_and_dimension_texts_are_there(document):
    file = document[1]
    hatches = {h.dxf.pattern_name for h in file.modelspace().query("HATCH")}
    assert {kind.value.upper() for kind in Hatch if kind is not Hatch.STEEL} | {"SOLID"} == hatches
    for layer in LAYERS:
        entry = file.layers.get(layer.name.upper())
        assert entry.dxf.lineweight == round(layer.weight * 100)
        assert entry.description == layer.holds
    assert {d.dxf.text for d in file.modelspace().query("DIMENSION")} >= {'50"', '40"', "90°"}


def test_identical_drawings_give_identical_files_and_the_librarys_switch_is_put_back():
    before = ezdxf.options.write_fixed_meta_data_for_testing
    assert dxf(DRAWING) == dxf(DRAWING)
    assert ezdxf.options.write_fixed_meta_data_for_testing == before
