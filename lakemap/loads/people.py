"""People aboard."""

from lakemap.basis.published import GRAVITY_M_S2, PERSON_LB
from lakemap.basis.quantities import POUND_KG

PERSON_KG = PERSON_LB.value * POUND_KG.value
PERSON_N = PERSON_KG * GRAVITY_M_S2.value
