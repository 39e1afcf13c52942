"""What is seen on a sliding dovetail that no setting cures: each with its causes, their tests and
cures.

Common practice, no source, but for what polygons bear out: a lean of the shelf opens one shoulder
by T tan(lean), a fence that leans makes one flank steeper and the other flatter by as much.
"""

from __future__ import annotations

from ..faults import Cause, Symptom, words

SYMPTOMS: tuple[Symptom, ...] = (
    Symptom(
        "one-shoulder",
        "gap at one shoulder",
        "A gap at one shoulder, the other closed",
        (words("one shoulder"), words("one side"), words("one gap")),
        (
            Cause(
                "lean",
                2.0,
                "The shelf leaned against the fence while its tongue was cut.",
                "Stand it in its cut again, a square against its face: it leans by the gap over "
                "its thickness, {d} over {thick}.",
                "A taller fence, a backer and a featherboard above the cut; a fresh end.",
                amounts=("d", "thick"),
            ),
            Cause(
                "square",
                1.0,
                "The shelf's end is out of square.",
                "A square across the end, from the face that was at the fence first.",
                "Square the end, then cut the tongue anew.",
            ),
        ),
        also=words("gap open shoulder shoulders"),
        size="the gap",
        typical=0.3,
        group="Shoulders",
    ),
    Symptom(
        "both-shoulders",
        "both shoulders open",
        "Both shoulders open, whatever the exposure",
        (words("both shoulder"), words("both open"), words("both gap"), words("bottoms")),
        (
            Cause(
                "tongue-high",
                3.0,
                "The tongue is higher than the socket is deep and stands on its floor.",
                "Look through the end: no light under the tongue.",
                "Plane {d} and a paper's {paper} more off the tongue's end, or pack that much more "
                "under the next one; then judge the fit again, since its height wedged it.",
                amounts=("d", "paper"),
            ),
            Cause(
                "chips",
                2.0,
                "Chips lie in the socket.",
                "Brush it out and try again.",
                "Clear every socket before its tongue is tried.",
            ),
            Cause(
                "lifted",
                1.0,
                "The socket is shallow where the router or the panel lifted.",
                "A depth rod along the socket: it is shallower in places.",
                "Pass that socket again at the height it was cut at, held down all along.",
            ),
        ),
        also=words("gap open shoulder shoulders bottoms"),
        size="the gap",
        typical=0.3,
        group="Shoulders",
    ),
    Symptom(
        "root-and-end",
        "root and end fit differently",
        "The tongue is tight at its root and loose at its end, or the other way round",
        (words("root end"), words("root tight"), words("root loose"), words("flank")),
        (
            Cause(
                "fence-leans",
                1.0,
                "The fence leans: both flanks come out at another angle than the bit's.",
                "A square between table and fence, at the bit.",
                "Square the fence; sockets that are cut stay good, tongues are cut anew.",
            ),
        ),
        also=words("tight loose end root"),
        group="The slide",
    ),
    Symptom(
        "binds-half-way",
        "starts well, binds half way",
        "It starts well and binds half way",
        (words("binds half"), words("binds middle"), words("starts binds"), words("tight middle")),
        (
            Cause(
                "socket-uneven",
                1.0,
                "The socket is not straight: the panel is bowed, or it was cut from both sides.",
                "Turn the shelf about and slide it in from the other end: the tight spot stays "
                "where it was on the panel.",
                "Straighten the panel, clamp it flat while the case is put together.",
            ),
            Cause(
                "thickness-varies",
                1.0,
                "The shelf's thickness varies along the tongue.",
                "Turn the shelf about: the tight spot goes along with the shelf. A caliper finds "
                "it.",
                "Plane the shelves together; sort them by thickness; ease the tight part of the "
                "flank with a shoulder plane.",
            ),
        ),
        also=words("starts half middle binds"),
        group="The slide",
    ),
    Symptom(
        "later-deeper",
        "later sockets deeper",
        "Later sockets are deeper or tighter than the first",
        (words("later deeper"), words("sockets deeper"), words("later tight"), words("creeps")),
        (
            Cause(
                "creep",
                1.0,
                "The bit creeps out of its collet.",
                "A pencil mark across shank and collet nut: it parts.",
                "Clean the collet, shank fully in and backed out a little; set the height again, "
                "and cut all sockets anew.",
            ),
        ),
        also=words("sockets later deeper"),
        group="The slide",
    ),
    Symptom(
        "jams-in-glue",
        "good dry, jams in glue",
        "Good when dry, it jams half way with glue",
        (words("jams glue"), words("glue"), words("stuck glue")),
        (
            Cause(
                "too-close",
                1.0,
                "The play is too small for its length: glue swells the wood and stiffens at once.",
                "Pull the dry shelf straight out: a gap under {least} at the shoulder is less "
                "than {play} of play.",
                "The next wider window for a long slide; slow glue on the last third alone; "
                "push it home in one go.",
                amounts=("least", "play"),
            ),
        ),
        also=words("dry jams glue"),
        group="The slide",
    ),
)

CAUSES = {cause.code: cause for symptom in SYMPTOMS for cause in symptom.causes}
NAMES = {
    **dict.fromkeys(("shoulders",), "shoulder"),
    **dict.fromkeys(("gaps", "gappy", "opens", "opening"), "gap"),
    **dict.fromkeys(("bind", "sticks", "jam", "jammed"), "binds"),
    **dict.fromkeys(("halfway", "way", "midway"), "half"),
    **dict.fromkeys(("bottom", "bottoming"), "bottoms"),
    **dict.fromkeys(("socket", "slots"), "sockets"),
    **dict.fromkeys(("flanks", "cheek"), "flank"),
    **dict.fromkeys(("creep", "creeping"), "creeps"),
    **dict.fromkeys(("glued", "gluing"), "glue"),
    "start": "starts",
    "deep": "deeper",
    "only": "one",
    "last": "later",
}
