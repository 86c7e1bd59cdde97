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
  /** Bytes of the whole message, as the encoder writes it. */
  readonly length: number;
  /**
   * Fast packets only: bytes of the shortest edition of the message; one that announces fewer is
   * a single frame in disguise. 1 when not given.
   */
  readonly shortest?: number;
  /** "from memory", or the published document and page. */
  readonly source: string;
  readonly fields: readonly Field[];
}

interface Common {
  /** Lower case with hyphens, unique in the row. */
  readonly name: string;
  /** First bit, counted from bit 0 of byte 0, little endian. */
  readonly bit: number;
  /** Bits. */
  readonly width: number;
}

export type Field =
  /** value = raw × resolution + offset */
  | (Common & {
    readonly kind: "number";
    readonly signed?: boolean;
    readonly resolution: number;
    readonly offset?: number;
    readonly unit: WireUnit;
  })
  /** A plain count or key without reserved codes beyond all ones ("instance"). */
  | (Common & { readonly kind: "index" })
  /** An enumerated value; a code without a word is out of range. */
  | (Common & { readonly kind: "words"; readonly words: Readonly<Record<number, string>> })
  /** One bit, one fact; a whole field of ones is "not available", not so many alarms. */
  | (Common & { readonly kind: "bits"; readonly bits: readonly (string | null)[] })
  /** Bytes of text, padded with 0xFF, zero or spaces. */
  | (Common & { readonly kind: "text" })
  /** Sent as ones, never read. */
  | (Common & { readonly kind: "reserved" });
