/** The environment's word for the number of the write that is the last, from 1. */
export const KILL_AT_WRITE = "KILL_AT_WRITE";
