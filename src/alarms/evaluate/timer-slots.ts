/**
 * Timers of one instance, in the order in which they act at the same instant. `test`: what a curve
 * or a measure gathered changes by itself.
 */
export const Slot = { delay: 0, test: 1, held: 2 } as const;
