import { once } from "node:events";
import PostalMime, { type Email } from "postal-mime";
import { SMTPServer } from "smtp-server";
import { Certificates } from "./certificates.ts";

export interface ReceivedMail {
  readonly mail: Email;
  /** The lines as they came. */
  readonly raw: string;
  /** Whom the server was told to bring it to, which the mail itself cannot change. */
  readonly to: readonly string[];
}

export const USER = "hazel-comfort";
export const PASSWORD = "correct-horse-s3cret";

/** A real SMTP server on loopback that takes mail only by TLS and only from whom it knows. */
export class MailService {
  readonly received: ReceivedMail[] = [];
  /** How the next mails are answered in place of 250: 4xx or 5xx. */
  readonly answers: number[] = [];
  /** While set, no mail is answered until it resolves. */
  held: Promise<void> | undefined;
  readonly authority: string;
  /** `smtps://127.0.0.1:PORT` */
  address = "";
  readonly #server: SMTPServer;

  private constructor(folder: string, secure: boolean) {
    const certificates = new Certificates(folder);
    certificates.sign("mail", "subjectAltName=IP:127.0.0.1,DNS:localhost");
    const { authority, certificate: cert, key } = certificates.of("mail");
    this.authority = authority;
    this.#server = new SMTPServer({
      secure,
      cert,
      key,
      logger: false,
      authMethods: ["PLAIN", "LOGIN"],
      closeTimeout: 100,
      onAuth: ({ username, password }, session, done) => {
        const isKnown = session.secure && username === USER && password === PASSWORD;
        done(null, isKnown ? { user: USER } : { message: "no", responseCode: 535 });
      },
      onData: (stream, { envelope: { rcptTo } }, done) => {
        const chunks: Uint8Array[] = [];
        stream.on("data", (chunk: Uint8Array) => chunks.push(chunk));
        stream.on("end", () => {
          this.#take(chunks, rcptTo.map(({ address }) => address))
            .then(() => done(), done);
        });
      },
    });
    // Whoever is cut off in the middle is no fault of the server's.
    this.#server.on("error", () => {});
  }

  /** @param secure TLS from the first byte; else by STARTTLS */
  static async start(folder: string, secure: boolean): Promise<MailService> {
    const service = new MailService(folder, secure);
    await once(service.#server.listen(0, "127.0.0.1"), "listening");
    const at = service.#server.server.address();
    if (at === null || typeof at === "string") throw new Error("the mail server has no port");
    service.address = `${secure ? "smtps" : "smtp"}://127.0.0.1:${at.port}`;
    return service;
  }

  stop(): Promise<void> {
    return new Promise((resolve) => this.#server.close(resolve));
  }

  async #take(chunks: readonly Uint8Array[], to: readonly string[]): Promise<void> {
    await this.held;
    const responseCode = this.answers.shift();
    if (responseCode !== undefined) {
      throw Object.assign(new Error("not this one"), { responseCode });
    }
    const raw = await new Blob(chunks.map((chunk) => new Uint8Array(chunk))).text();
    this.received.push({ mail: await PostalMime.parse(raw), raw, to });
  }
}
