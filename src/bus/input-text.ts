import { nearestName } from "../ground/spelling.ts";
import type { RecordingKind } from "./recordings/recognise.ts";

/**
 * What a person named as input. `bus` is the name that they gave it (`can1=slcan:/dev/ttyACM0`).
 * Places are as written, not yet resolved against a folder.
 */
export type Input =
  & { readonly bus?: string }
  & (
    | { readonly kind: "socketcan"; readonly interface: string }
    | { readonly kind: "slcan"; readonly device: string }
    | { readonly kind: "tcp"; readonly host: string; readonly port: number }
    | { readonly kind: "simulator"; readonly scenario: string }
    | { readonly kind: "standard-input" }
    | { readonly kind: RecordingKind; readonly file: string }
    /** A bare file or folder, to be recognised by its content. */
    | { readonly kind: "by-content"; readonly file: string }
  );

/** A text that names no input. */
export interface InputMistake {
  readonly kind: "mistake";
  readonly found: string;
  readonly expected: string;
  readonly nearest?: string;
}

const KINDS = ["socketcan", "slcan", "tcp", "candump", "pcap", "pcapng", "simulator"];

const GIVEN_NAME = /^([A-Za-z][A-Za-z0-9_-]{0,14})=(.*)$/s;
/** Letters before a colon are a kind; a file whose name looks so is written "./odd:name". */
const PREFIX = /^([A-Za-z]+):(.*)$/s;
const HOST_AND_PORT = /^(\[[0-9A-Fa-f:.]+\]|[^\s:]+):(\d{1,5})$/;

/** Reads the INPUT of the command line and of the settings. */
export function parseInputText(text: string): Input | InputMistake {
  const given = GIVEN_NAME.exec(text);
  if (given === null) return parseUnnamed(text);
  const input = parseUnnamed(given[2]);
  return input.kind === "mistake" ? input : { ...input, bus: given[1] };
}

function parseUnnamed(text: string): Input | InputMistake {
  if (text === "-") return { kind: "standard-input" };
  const parts = PREFIX.exec(text);
  if (parts === null) {
    return text === "" ? mistake(text, "an input") : { kind: "by-content", file: text };
  }
  const [, kind, rest] = parts;
  switch (kind) {
    case "socketcan":
      return rest === "" || /[\s/]/.test(rest) || rest.length > 15
        ? mistake(text, "a network interface, as in socketcan:can0")
        : { kind, interface: rest };
    case "slcan":
      return rest === ""
        ? mistake(text, "a serial device, as in slcan:/dev/ttyACM0")
        : { kind, device: rest };
    case "tcp":
      return parseAddress(text, rest);
    case "simulator":
      return rest === ""
        ? mistake(text, "a scenario, as in simulator:harbour-day")
        : { kind, scenario: rest };
    case "candump":
    case "pcap":
    case "pcapng":
      return rest === "" ? mistake(text, `a file, as in ${kind}:FILE`) : { kind, file: rest };
    default:
      return mistake(
        `${kind}:`,
        `one of ${KINDS.map((name) => `${name}:`).join(", ")}, a file or folder, or -`,
        nearestName(kind, KINDS) ?? (HOST_AND_PORT.test(text) ? "tcp" : undefined),
      );
  }
}

/** Names that Linux gives interfaces for CAN, serial devices, and a port at the end of a host. */
const LIKE_LIVE = [
  { kind: "socketcan", names: /^(v?x?can|slcan)\d+$/ },
  { kind: "slcan", names: /^\/dev\/(tty|serial\/)/ },
  { kind: "tcp", names: /^[0-9A-Za-z.-]+:\d{1,5}$/ },
] as const;

/** The live input that a person probably meant who named no ordinary file; undefined: none. */
export function likelyLive(file: string): string | undefined {
  const like = LIKE_LIVE.find(({ names }) => names.test(file));
  return like && `${like.kind}:${file}`;
}

function parseAddress(text: string, rest: string): Input | InputMistake {
  const parts = HOST_AND_PORT.exec(rest);
  const port = parts === null ? 0 : Number(parts[2]);
  if (parts === null || port < 1 || port > 65_535) {
    return mistake(text, "a host and a port, as in tcp:boat-gateway:2000");
  }
  return { kind: "tcp", host: parts[1].replace(/^\[|\]$/g, ""), port };
}

function mistake(found: string, expected: string, nearest?: string): InputMistake {
  const facts = { kind: "mistake", found, expected } as const;
  return nearest === undefined ? facts : { ...facts, nearest: `${nearest}:` };
}

/** The sentence for a mistake on the command line. */
export function mistakeWords({ found, expected, nearest }: InputMistake): string {
  const meant = nearest === undefined ? "" : `; did you mean "${nearest}"?`;
  return `Input: found "${found}", expected ${expected}${meant || "."}`;
}
