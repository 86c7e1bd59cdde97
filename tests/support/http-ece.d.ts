import type { Buffer } from "node:buffer";
import type { ECDH } from "node:crypto";

/** As much as is used here of a library that comes without types. */
export interface EncryptedContent {
  readonly version: "aes128gcm";
  /** Of RFC 8291: the reader's own pair. */
  readonly privateKey?: ECDH;
  readonly authSecret?: Buffer | string;
  /** Of RFC 8188 alone. */
  readonly key?: Buffer | string;
}

export function decrypt(body: Buffer, how: EncryptedContent): Buffer;

declare const library: { readonly decrypt: typeof decrypt };
export default library;
