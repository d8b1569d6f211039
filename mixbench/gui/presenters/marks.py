"""The states every page speaks in: each a word, a shape and a line style; colour comes fourth.

========  =====================  ======================
state     shape                  line
========  =====================  ======================
rest      none                   thin
moving    front bar              solid
soon      hollow triangle        dashed, soon fill
act       solid diamond          thick, act fill
in        two posts closed       double
over      broken post            thick, hatched
unsure    dotted box             dotted
locked    bar across             grey hatch
========  =====================  ======================
"""

from __future__ import annotations

from mixbench.pouring.cue import Cue as Mark

__all__ = ["Mark"]
