/** A position in a person's file; line and column count from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/**
 * What is wrong in a file that a person wrote. Facts only: `problem-words.ts` makes the sentence.
 * `notice` does not stop anything ("not used by this version").
 */
export type Problem =
  | {
    readonly kind: "unknown-name";
    readonly place: Place;
    readonly found: string;
    /** Who does not know it: "a boat file", "an engine", "this boat". */
    readonly owner: string;
    readonly nearest?: string;
  }
  | {
    readonly kind: "wrong-value";
    readonly place: Place;
    /** As written, or a description ("a list"). */
    readonly found: string;
    readonly expected: string;
    readonly nearest?: string;
  }
  | {
    readonly kind: "missing";
    readonly place: Place;
    readonly what: string;
    readonly owner: string;
  }
  | {
    readonly kind: "conflict";
    readonly place: Place;
    /** A whole clause: `engines "port" and "starboard" both say instance 0 and nothing tells them apart`. */
    readonly found: string;
    readonly remedy: string;
  }
  | {
    readonly kind: "notice";
    readonly place: Place;
    readonly found: string;
    readonly note: string;
    readonly nearest?: string;
  };
