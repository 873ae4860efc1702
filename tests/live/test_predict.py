# SPDX-License-Identifier: MIT
import pytest
from spring import predicted_spring, spring_explorer

from glasskit.live.predict import Prediction


def explorer_is_there(prediction):
    return len(prediction.widget.children) == 2


def test_the_explorer_waits_for_a_choice():
    assert not explorer_is_there(predicted_spring())


@pytest.mark.parametrize(
    ("index", "said"),
    [
        (0, "That is what happens. The stretch grows in step with the pull."),
        (1, "Not quite. That is the energy"),
    ],
)
def test_each_choice_gets_its_own_reply_and_then_the_explorer(index, said):
    prediction = predicted_spring()
    prediction.choices[index].click()
    assert said in prediction.reply.value
    assert all(choice.disabled for choice in prediction.choices)
    assert [choice.icon for choice in prediction.choices].index("check") == index
    assert explorer_is_there(prediction)


def test_a_teacher_can_skip():
    prediction = predicted_spring()
    prediction.skip.click()
    assert explorer_is_there(prediction)
    assert prediction.reply.value == ""


def test_the_right_answer_must_be_an_option():
    with pytest.raises(ValueError, match=r"^correct must lie in 0 <= correct < 1; got 1$"):
        Prediction("Which?", [("this", "yes")], 1, spring_explorer())
