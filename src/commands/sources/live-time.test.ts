import { beforeEach, describe, expect, test } from "vitest";
import { FrameBatch } from "../../bus/frame-batch.ts";
import { emptyCounts, type FrameSource } from "../../bus/frame-source.ts";
import { type Micros, MILLISECOND, MINUTE, SECOND } from "../../ground/time.ts";
import { LiveTime } from "./live-time.ts";

const HOUR = 60 * MINUTE;
const WALL: Micros = 1_781_431_200 * SECOND;

function liveSource(more: Partial<FrameSource> = {}): FrameSource {
  return {
    title: "gateway",
    live: true,
    counts: emptyCounts(),
    problems: [],
    async *batches() {},
    stop() {},
    ...more,
  };
}

const here = liveSource({ stampedHere: true, lateness: 50 * MILLISECOND });
const connection = liveSource({ lateness: 500 * MILLISECOND });
const pipe = liveSource();

describe("the time of live sources", () => {
  let steady: Micros;
  let time: LiveTime;
  beforeEach(() => {
    steady = 0;
    time = new LiveTime({ steady: () => steady, wall: () => WALL + steady });
  });

  /** The stamps of a batch once they have been put right. */
  function hear(source: FrameSource, ...stamps: readonly Micros[]): Micros[] {
    const batch = new FrameBatch(stamps.length);
    batch.times.set(stamps);
    batch.count = stamps.length;
    time.hear(source, batch);
    return [...batch.times];
  }

  test("goes on from the last stamp, whatever clock made it, less what may be on its way", () => {
    expect(time.reached()).toBeUndefined();
    hear(connection, WALL - HOUR);
    steady = 2 * SECOND;
    expect(time.reached()).toBe(WALL - HOUR + 1_500 * MILLISECOND);
    expect(time.now()).toBe(WALL - HOUR + 2 * SECOND);
  });

  test("goes on before any frame where stamps are made here", () => {
    time.begin([connection, here]);
    steady = SECOND;
    expect(time.now()).toBe(WALL + SECOND);
  });

  test("is ours where another source's clock is an hour off", () => {
    time.begin([here, connection]);
    steady = SECOND;
    const [first, last] = hear(connection, WALL + HOUR, WALL + HOUR + 10 * MILLISECOND);
    expect([first, last]).toEqual([WALL + SECOND - 10 * MILLISECOND, WALL + SECOND]);
    expect(hear(here, WALL + SECOND)).toEqual([WALL + SECOND]);
    steady = 2 * SECOND;
    const later = WALL + HOUR + 1_010 * MILLISECOND;
    expect(hear(connection, later)).toEqual([WALL + 2 * SECOND]);
  });

  test("does not jump when the clock of one of two is set, nor when it is set back again", () => {
    time.begin([connection, pipe]);
    hear(connection, WALL);
    steady = SECOND;
    expect(hear(connection, WALL + SECOND + HOUR)).toEqual([WALL + SECOND]);
    steady = 2 * SECOND;
    expect(hear(connection, WALL + 2 * SECOND + HOUR)).toEqual([WALL + 2 * SECOND]);
    steady = 3 * SECOND;
    expect(hear(connection, WALL + 3 * SECOND)).toEqual([WALL + 3 * SECOND]);
  });

  test("is that of the stamps where they are only late", () => {
    hear(connection, WALL);
    steady = SECOND;
    expect(hear(connection, WALL + 200 * MILLISECOND)).toEqual([WALL + 200 * MILLISECOND]);
  });

  test("is that of the stamps of one source alone, which may give what was recorded at once", () => {
    time.begin([connection]);
    hear(connection, WALL);
    expect(hear(connection, WALL + HOUR)).toEqual([WALL + HOUR]);
  });
});
