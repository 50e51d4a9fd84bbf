"""Doubts of the lattice network near to certainty, as counted."""

import numpy as np
import pytest

from recognise.marks import calibration
from recognise.marks.heads import CHANNELS, FIRST
from recognise.marks.network import chances


def test_only_what_is_nearly_sure_is_surer() -> None:
    doubts = np.array([0.5, 0.021, 0.02, 0.01, 0.001])
    left = calibration.less(doubts, 1.5)
    assert left[:3] == pytest.approx(doubts[:3])
    assert left[3:] == pytest.approx([0.02 * 0.5**1.5, 0.02 * 0.05**1.5])
    assert (np.diff(left) < 0).all()


def test_probabilities_of_classes_stay_probabilities_and_their_shares() -> None:
    told = np.array([0.004, 0.895, 0.1, 0.001]).reshape(1, 4, 1, 1)
    counted = calibration.of_classes(told, slice(1, 3), 1.3)
    assert counted.sum() == pytest.approx(1)
    assert counted[0, 0, 0, 0] / counted[0, 3, 0, 0] == pytest.approx(4)
    assert counted[0, 1, 0, 0] / counted[0, 2, 0, 0] == pytest.approx(8.95)
    assert 1 - counted[0, 1:3].sum() == pytest.approx(0.02 * (0.005 / 0.02) ** 1.3)


def test_a_link_is_surer_whatever_its_kind_and_nothing_else_is() -> None:
    scores = np.zeros((CHANNELS, 3, 3))
    link, node = FIRST["link"], FIRST["node"]
    scores[link + 1 : link + 4, 1, 1] = 5.0  # a line, a shaft or a tube, all alike
    scores[node, 1, 1] = scores[node + 1, 1, 1] = 5.0  # a bulb, and a circle
    told = chances(scores)
    drawn = told.heads["link"][0, 1:4, 1, 1]
    assert drawn == pytest.approx([drawn[0]] * 3)
    doubt = 2 / (2 + 3 * np.exp(5.0))
    assert 1 - drawn.sum() == pytest.approx(0.02 * (doubt / 0.02) ** calibration.LINKS)
    sigmoid = 1 / (1 + np.exp(-5.0))
    assert told.heads["node"][0, 1, 1, 1] == pytest.approx(sigmoid)
    assert told.heads["node"][0, 0, 1, 1] > sigmoid + 0.002
