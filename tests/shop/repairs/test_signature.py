"""A signature is strokes and nothing that loads, links or runs."""

import pytest

from shop.core.errors import BadField
from shop.repairs.signature import MAX_BYTES, is_plain_drawing, is_strokes, require_signature

GOOD = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 300 100" width="300">'
    '<g fill="none" stroke="black" stroke-width="2"><path d="M0 0 L10.5,-3 C1 2 3 4 5 6"/>'
    "<polyline points='0,0 1,1'/></g></svg>"
)


def test_a_drawing_of_strokes_is_taken():
    assert is_plain_drawing(GOOD)
    require_signature({"svg": GOOD, "strokes": [[{"x": 1, "y": 2.5, "t": 17}]], "name": "R"})


@pytest.mark.parametrize(
    "svg",
    [
        "",
        "no drawing",
        "<svg><script>alert(1)</script></svg>",
        "<svg onload='alert(1)'></svg>",
        "<svg><image href='http://evil.example/x.png'/></svg>",
        "<svg><use xlink:href='#a'/></svg>",
        "<svg><path d='M0 0' style='fill:red'/></svg>",
        "<svg><path fill='url(http://evil.example/x)'/></svg>",
        "<svg><path fill='URL(#a)'/></svg>",
        "<svg><text>words</text></svg>",
        "<svg>words</svg>",
        "<svg><!-- --></svg>",
        "<svg><![CDATA[x]]></svg>",
        "<svg><path d='&#106;'/></svg>",
        "<!DOCTYPE svg><svg></svg>",
        "<svg><foreignObject></foreignObject></svg>",
        "<svg><animate attributeName='href'/></svg>",
        "<svg><path d=M0/></svg>",
    ],
)
def test_anything_else_is_refused(svg):
    assert not is_plain_drawing(svg)
    with pytest.raises(BadField) as refused:
        require_signature({"svg": svg, "strokes": [[1, 2]]})
    assert refused.value.field == "signature.svg"


@pytest.mark.parametrize(
    "strokes", ["text", None, 5, [["x"]], [[True]], [[float("inf")]], [[2**53]], [[[[[1]]]]]]
)
def test_strokes_are_lists_of_finite_numbers(strokes):
    assert not is_strokes(strokes)
    with pytest.raises(BadField) as refused:
        require_signature({"svg": GOOD, "strokes": strokes})
    assert refused.value.field == "signature.strokes"


def test_a_signature_that_is_too_large_is_refused_before_it_is_read():
    with pytest.raises(BadField) as refused:
        require_signature({"svg": GOOD, "strokes": [[0] * MAX_BYTES]})

    assert refused.value.field_code == "too_large"


def test_no_signature_is_no_error():
    require_signature(None)
