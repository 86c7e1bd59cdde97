import { type CatalogueEntry, INSTANCE, named, optional, same, states } from "./entry.ts";

/** Where the boat is, how she lies and where she goes. */
export const NAVIGATION_ENTRIES: readonly CatalogueEntry[] = [
  {
    pgn: 127245,
    group: "rudder",
    keys: [INSTANCE],
    signals: [
      named("rudder-angle", "angle"),
      ...optional(
        named("angle-order", "ordered-angle", "angle"),
        named("direction-order", "ordered-direction", "state"),
      ),
    ],
  },
  heading("true"),
  heading("magnetic"),
  only(127251, "heading", [named("rate-of-turn", "rate-of-turn", "turn")]),
  only(127257, "attitude", [same("yaw", "angle"), same("pitch", "angle"), same("roll", "angle")]),
  only(127258, "heading", [same("variation", "angle")]),
  only(128259, "speed", [named("speed-through-water", "through-water", "way")]),
  {
    pgn: 128267,
    group: "sounder",
    keys: [],
    only: "main",
    signals: [
      same("depth"),
      ...optional(same("offset", "depth-offset"), same("range", "length")),
    ],
  },
  only(128275, "log", [named("log", "total", "length"), named("trip-log", "trip", "length")]),
  {
    ...only(129025, "position", [same("latitude"), same("longitude")]),
    whereabouts: true,
  },
  course("true", "over-ground"),
  course("magnetic", "over-ground-magnetic"),
  { ...only(129026, "speed", [wayOverGround()]), whereabouts: true },
  {
    ...only(129029, "gnss", [
      same("latitude"),
      same("longitude"),
      same("altitude", "length"),
      ...states("gnss-type", "gnss-method", "integrity").map((signal) => ({
        ...signal,
        quantity: signal.quantity.replace("gnss-", ""),
      })),
      same("satellites", "count"),
      same("horizontal-dilution", "factor"),
      same("position-dilution", "factor"),
    ]),
    whereabouts: true,
  },
  only(129283, "navigation", [same("cross-track-error", "length")]),
  only(129284, "navigation", [
    same("waypoint-distance", "length"),
    same("bearing-to-waypoint", "angle"),
    named("closing-speed", "waypoint-closing-speed", "way"),
    ...states("perpendicular-crossed", "arrival-circle-entered"),
  ]),
];

function only(pgn: number, group: string, signals: CatalogueEntry["signals"]): CatalogueEntry {
  return { pgn, group, keys: [], signals };
}

function heading(reference: string): CatalogueEntry {
  return {
    pgn: 127250,
    when: { "heading-reference": reference },
    group: "heading",
    keys: [],
    // The compass's own idea of both; PGN 127258 gives the variation that counts.
    signals: [
      named("heading", reference, "angle"),
      ...optional(
        named("deviation", "compass-deviation", "angle"),
        named("variation", "compass-variation", "angle"),
      ),
    ],
  };
}

function wayOverGround() {
  return { field: "speed-over-ground", quantity: "over-ground", sort: "way", group: "speed" };
}

function course(reference: string, quantity: string): CatalogueEntry {
  return {
    pgn: 129026,
    when: { "course-reference": reference },
    group: "course",
    keys: [],
    whereabouts: true,
    signals: [named("course-over-ground", quantity, "angle"), wayOverGround()],
  };
}
