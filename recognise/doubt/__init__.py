"""Doubt: four guards before a reading is clean (confidence, ink, sentences, proof); `policy.py` alone decides.

Ink that nothing explains: `ink.py`, and what it cannot see by itself: on marks `hidden.py`, thin on narrow lines
`on_narrow.py`, small on lines `upon_lines.py`, out of a line's side `bulges.py`, too faint `pale.py` and `palest.py`,
marks nearly bare `bleached.py`, tints `unseen_tints.py`, lighter than its ground `bare.py`, under lines
`under_lines.py`, in their gaps `broken.py`, beside the grid `lone.py` and `beside.py`; a figure lost beside a small
number `figures.py`, a stain that passes for a circle `darker_alone.py`, parts of filled marks `half_marks.py`, a
character of a PDF that no item states `ledger.py`, a line or scrap that forbids nothing `idle.py`. `dirt.py`,
`mirrored.py`, `numberless.py`, `other_side.py`, `own_lines.py`, `shaded.py`, `tips.py` and `waved.py` say what is not
worth asking about, `refuted.py` which pale figures the solution refutes.

Proof: `proof.py`, where there is no solution `conflicts.py`; lines that meet joined otherwise `swapped.py`, other
readings that leave one solution `alternatives.py`, then what the rules may say otherwise `other_rules.py`, then
`farther.py` (`only_one.py`: of several drafts the one that stands); meanings that no rule states `readings.py`, or
need none `nothing.py`: `prize.py`, `stray_number.py`; rules of sentences that are not understood, or that nobody read,
`lost_rules.py`. How much of a doubt the proof of this very page lets through: of the way that a mark goes `ways.py`,
of a number `values.py`, of the kind of a line `kinds.py`, of what is obeyed by chance `by_chance.py` (`instead.py`:
the other ways of one item, without a proof for each); what need not be asked then: `excluded.py` of steps of lines,
`line_kinds.py` of their kinds and bulbs, `crossed.py` of how they go on where they meet, `pointed.py` of where little
arrows point, `tinted_cells.py` of which cells are tinted, `taken.py` of marks not quite as the rules say, `unspoken.py`
of marks without a sentence, `sentences.py` and `telling.py` of the rules.

`calibration.py` says how often a stated confidence is right, `poor.py` that a picture is too poor to read, `causes.py`
makes one query of many, `placed.py` says where on the page one stands, `sentence_marks.py` of which marks a sentence
speaks."""
