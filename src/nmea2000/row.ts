import type { Micros } from "../ground/time.ts";
import type { WireUnit } from "../units/codes.ts";

export type { WireUnit };

/**
 * A message as a row of data: the compiled decoder, the encoder and the documentation read the
 * same rows. Shared code has no `if` on a message number.
 */
export interface PgnRow {
  readonly pgn: number;
  /** "engine parameters, rapid update" */
  readonly title: string;
  /** A fact of the row: a short message may still be sent as a fast packet (127506 is). */
  readonly transport: "single" | "fast-packet" | "iso-transport";
  /** 0 to 7, from memory; 6 when not given. */
  readonly priority?: number;
  /** Which codes at the top of a field's range are reserved. */
  readonly codes: "nmea2000" | "j1939";
  /** Time between two messages when all is well; null: sent on change or on request. */
  readonly period: Micros | null;
  /** Bytes of the whole message, as the encoder writes it; those before the tail, if it has one. */
  readonly length: number;
  /**
   * Fast packets only: bytes of the shortest edition of the message; one that announces fewer is
   * a single frame in disguise. 1 when not given.
   */
  readonly shortest?: number;
  /** "from memory", or the published document and page. */
  readonly source: string;
  readonly fields: readonly Field[];
  /** What follows the fields, where the message has no fixed length. */
  readonly tail?: Tail;
}

/** The end of a message that is as long as it has something to say. */
export type Tail =
  /** The same fields again and again. */
  | {
    readonly kind: "groups";
    /** What one group is: "line", "trouble-code". */
    readonly name: string;
    /** Bytes of one group. */
    readonly length: number;
    /** The field of the row that says how many groups follow; without one they fill the message. */
    readonly count?: string;
    /** Bits are counted from the group's own start. */
    readonly fields: readonly Field[];
  }
  /** Texts one after another, each with its length and its alphabet before it. */
  | { readonly kind: "texts"; readonly names: readonly string[] };

interface Common {
  /** Lower case with hyphens, unique in the row. */
  readonly name: string;
  /** First bit, counted from bit 0 of byte 0, little endian. */
  readonly bit: number;
  /** Bits. */
  readonly width: number;
  /** Where its highest bits lie apart from the others, which `bit` and `width` then tell of. */
  readonly high?: Place;
}

/** Bits of a message. */
export interface Place {
  readonly bit: number;
  readonly width: number;
}

/** The values that a quantity can have in or near a boat, in the field's unit; both ends count. */
export interface Plausible {
  readonly least?: number;
  readonly most?: number;
}

export type Field =
  /** value = raw × resolution + offset */
  | (Common & {
    readonly kind: "number";
    readonly signed?: boolean;
    readonly resolution: number;
    readonly offset?: number;
    readonly unit: WireUnit;
    /** What lies beyond says that a sender, a wire or a probe is missing: −273 °C, 0 hPa. */
    readonly plausible?: Plausible;
  })
  /** A plain count or key without reserved codes beyond all ones ("instance"). */
  | (Common & { readonly kind: "index" })
  /**
   * An enumerated value; a code without a word is out of range. All ones are "not available" unless
   * they have a word. Where several codes have one word, the highest is sent.
   */
  | (Common & { readonly kind: "words"; readonly words: Readonly<Record<number, string>> })
  /** One bit, one fact; a whole field of ones is "not available", not so many alarms. */
  | (Common & { readonly kind: "bits"; readonly bits: readonly (string | null)[] })
  /** Bytes of text, padded with 0xFF, zero or spaces. */
  | (Common & { readonly kind: "text" })
  /** Sent as ones, never read. */
  | (Common & { readonly kind: "reserved" });
