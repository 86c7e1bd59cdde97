/**
 * The floors of the house, lowest first. A folder imports only from floors below its own, never
 * from another folder on the same floor. `src/watch.ts` is a floor of its own.
 */
export const FLOORS: readonly (readonly string[])[] = [
  ["src/ground"],
  ["src/units"],
  ["src/bus"],
  ["src/nmea2000"],
  ["src/boat"],
  ["src/alarms"],
  ["src/watch.ts"],
  ["src/formats"],
  ["src/drawing"],
  ["src/store"],
  ["src/record"],
  ["src/rehearsal", "src/survey", "src/plan"],
  ["src/outputs/mqtt", "src/outputs/phones", "src/outputs/page"],
  ["src/simulator"],
  ["src/commands"],
];

/** Floors that a folder may not use although they lie below it: what it must know nothing of. */
export const KNOWS_NOTHING_OF: Readonly<Record<string, readonly string[]>> = {
  "src/simulator": [
    "src/nmea2000",
    "src/boat",
    "src/alarms",
    "src/watch.ts",
    "src/formats",
    "src/drawing",
    "src/store",
    "src/record",
    "src/rehearsal",
    "src/survey",
    "src/plan",
    "src/outputs/mqtt",
    "src/outputs/phones",
    "src/outputs/page",
  ],
  "src/outputs/mqtt": ["src/rehearsal", "src/survey", "src/plan", "src/record"],
  "src/outputs/phones": ["src/rehearsal", "src/survey", "src/plan", "src/record"],
  "src/outputs/page": ["src/rehearsal", "src/survey", "src/plan", "src/record"],
};

/** The room (folder of the table above) that holds a file. */
export function roomOf(file: string): string | undefined {
  return FLOORS.flat().find((room) => file === room || file.startsWith(`${room}/`));
}

/** Why one file may not import another, or undefined where it may. */
export function complaint(from: string, to: string): string | undefined {
  const [fromRoom, toRoom] = [roomOf(from), roomOf(to)];
  if (fromRoom === undefined) return `${from} lies in no room of the house`;
  if (toRoom === undefined) return `${from} imports ${to}, which lies in no room of the house`;
  if (fromRoom === toRoom) return undefined;
  const [fromFloor, toFloor] = [fromRoom, toRoom].map((room) =>
    FLOORS.findIndex((floor) => floor.includes(room))
  );
  if (toFloor === fromFloor) return `${from} imports sideways: ${to}`;
  if (toFloor > fromFloor) return `${from} imports upwards: ${to}`;
  if (KNOWS_NOTHING_OF[fromRoom]?.includes(toRoom)) return `${from} may know nothing of ${to}`;
  return undefined;
}
