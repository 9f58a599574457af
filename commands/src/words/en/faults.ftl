## faults
