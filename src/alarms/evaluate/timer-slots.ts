/** Timers of one instance, in the order in which they act at the same instant. */
export const Slot = { delay: 0, curve: 1, held: 2 } as const;
