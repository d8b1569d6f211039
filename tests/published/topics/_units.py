"""Units of the published examples, exact by definition (US customary, avoirdupois)."""

from __future__ import annotations

L_PER_GAL = 3.785411784
G_PER_LB = 453.59237
G_L_PER_LB_GAL = G_PER_LB / L_PER_GAL
G_ML_PER_LB_GAL = G_L_PER_LB_GAL / 1000.0
G_PER_SHORT_TON = 2000.0 * G_PER_LB
UM_PER_MIL = 25.4
M2_PER_FT2 = 0.09290304
FT2_GAL_PER_M2_L = L_PER_GAL / M2_PER_FT2
M2_PER_IN2 = 0.0254**2
ML_PER_IN3 = 16.387064
