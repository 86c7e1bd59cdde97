import { liveSwept } from "./swept-boat.ts";

/**
 * One life of the swept boat as a program of its own, which may be killed at any moment. Arguments:
 * state folder, address of the phone. It says each thing in a line, `wait` when it waits for a line.
 */
const [state, phone] = Deno.args;
const encoder = new TextEncoder();
const say = (line: string) => void Deno.stdout.writeSync(encoder.encode(`${line}\n`));
const nods = Deno.stdin.readable[Symbol.asyncIterator]();

await liveSwept({
  later: 0,
  state,
  phone,
  say,
  async untilTold(tag, raisings) {
    say(`wait ${tag} ${raisings}`);
    await nods.next();
  },
});
Deno.exit(0);
