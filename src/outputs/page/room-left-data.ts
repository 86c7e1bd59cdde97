import type { RoomLeft } from "../../alarms/change.ts";
import { isoTime, type Micros } from "../../ground/time.ts";
import { roundTo } from "../../units/rounding.ts";

/** Decimals of a share of the usual range. */
const DECIMALS = 4;

/** The room left of each watched rule as a program reads it, with the least of the hour and day. */
export function roomLeftData(rooms: readonly RoomLeft[], now: Micros) {
  return {
    time: isoTime(now, 3),
    rooms: rooms.map((
      { tag, subject, signal, value, unit, setpoint, side, reason, ...shares },
    ) => ({
      ...{ tag, subject, signal, value, unit, setpoint, side },
      room: rounded(shares.room),
      hour: rounded(shares.hour),
      day: rounded(shares.day),
      reason,
    })),
  };
}

function rounded(share: number | null | undefined): number | null {
  return share === null || share === undefined ? null : roundTo(share, DECIMALS);
}
