# Duty, handover, due lists: who has a unit, who takes it over.

