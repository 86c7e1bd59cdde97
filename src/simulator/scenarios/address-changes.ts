import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Fault } from "../fault.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

const MOVED: Fault = { kind: "address-changes", device: "mast-receiver", address: 70 };

export const ADDRESS_CHANGES: Scenario = {
  name: "address-changes",
  story: "The mast receiver has to claim another address, and later its own again.",
  lasting: 3 * MINUTE,
  again: false,
  start: AT_THE_MOORING,
  happenings: [
    { at: 60 * SECOND, do: "fault", fault: MOVED },
    { at: 120 * SECOND, do: "repair", fault: MOVED },
  ],
};
