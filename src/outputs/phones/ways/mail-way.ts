import { Buffer } from "node:buffer";
import nodemailer from "nodemailer";
import { type Micros, MILLISECOND, SECOND } from "../../../ground/time.ts";
import type { PhoneMessage, SendOutcome, Way } from "../way.ts";
import { mailOutcome } from "./mail-outcome.ts";
import { connectionTo, type MailServer } from "./mail-server.ts";
import { mailText } from "./mail-text.ts";
import { firstSentence, oneLine } from "./message-head.ts";

/** A drawing of what a signal did of late. */
export interface MailPicture {
  readonly png: Uint8Array;
  /** What it shows, with the numbers: a picture has none in it. */
  readonly words: string;
}

export interface MailWaySettings {
  readonly name: string;
  /** `ellen@boat.example` */
  readonly to: string;
  readonly server: MailServer;
  /** Of the alarm's signal; null where there is nothing to draw. Left out for no pictures. */
  readonly picture?: (message: PhoneMessage) => Promise<MailPicture | null>;
  /** How long the mail server may take for everything. */
  readonly patience?: Micros;
  readonly wall: () => Micros;
}

/** A message as mail in plain text, with its key as its Message-ID. */
export class MailWay implements Way {
  readonly name: string;
  readonly #connection: ReturnType<typeof connectionTo>;

  /** @throws {TypeError} when the server's address is none */
  constructor(readonly settings: MailWaySettings) {
    this.name = settings.name;
    this.#connection = connectionTo(settings.server);
  }

  async send(message: PhoneMessage, cut: AbortSignal): Promise<SendOutcome> {
    const { patience = 60 * SECOND } = this.settings;
    const milliseconds = patience / MILLISECOND;
    const tooLong = AbortSignal.timeout(milliseconds);
    const transport = nodemailer.createTransport({
      ...this.#connection,
      connectionTimeout: milliseconds,
      greetingTimeout: milliseconds,
      socketTimeout: milliseconds,
      // Nothing that a message says is ever read as the name of a file or an address.
      disableFileAccess: true,
      disableUrlAccess: true,
    });
    try {
      const mail = await this.#mail(message);
      await transport.sendMail({ ...mail, signal: AbortSignal.any([tooLong, cut]) });
      return { kind: "accepted" };
    } catch (error) {
      return mailOutcome(error, this.#connection.host, tooLong.aborted);
    } finally {
      transport.close();
    }
  }

  async #mail(message: PhoneMessage) {
    const { to, server: { from }, wall } = this.settings;
    const picture = await this.#picture(message);
    return {
      from: { name: oneLine(message.boat), address: from },
      to: { name: oneLine(message.person), address: to },
      subject: firstSentence(message.text),
      messageId: `<${message.key}@${from.slice(from.lastIndexOf("@") + 1)}>`,
      date: new Date(wall() / MILLISECOND),
      // No holiday reply, please (RFC 3834, section 5).
      headers: { "Auto-Submitted": "auto-generated" },
      text: mailText(message, picture?.words ?? ""),
      attachments: picture === null ? [] : [{
        filename: "last-ten-minutes.png",
        contentType: "image/png",
        content: Buffer.from(picture.png),
      }],
    };
  }

  /** An alarm goes without its picture rather than not at all. */
  async #picture(message: PhoneMessage): Promise<MailPicture | null> {
    const { picture } = this.settings;
    if (picture === undefined || message.signal === "") return null;
    return await picture(message).catch(() => null);
  }
}
