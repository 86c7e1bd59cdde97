/**
 * An input that cannot be opened: a wrong text, no such file, no recording, a kind that this version
 * does not have. The message is a whole sentence for the person who named the input.
 */
export class CannotOpenInput extends Error {
  override readonly name = "CannotOpenInput";
}
