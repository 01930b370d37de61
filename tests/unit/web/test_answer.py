"""What the screens are told, in the builder's words."""

import re
from types import SimpleNamespace as Row

from rushlight.findings import FINDINGS
from rushlight.web.answer import whose

KEY = re.compile(r"\b[a-z]+_[a-z_]+\b|`")


def test_an_led_that_feeds_fibres_is_named_by_what_it_lights():
    lamps = [Row(name=f"{group} {n}", group=group) for group in ("ports", "lid", "mast") for n in (1, 2)]
    feeds = Row(name="I1", kind="illuminator", lamps=tuple(lamp.name for lamp in lamps))
    design = Row(lamps=lamps, loom=Row(emitters=[feeds, Row(name="stern", kind="led", lamps=("stern",))]))
    assert whose(design, "I1") == "I1, the LED behind ports, lid and 1 more"
    assert whose(design, "stern") == "stern"


def test_cures_name_keys_of_the_plan_file_only_in_an_aside():
    for rule in FINDINGS:
        assert not KEY.search(re.sub(r"\(plan file: [^)]+\)", "", rule.cure)), rule.key
