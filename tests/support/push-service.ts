import { Buffer } from "node:buffer";
import { createECDH, type ECDH, randomBytes } from "node:crypto";
// @ts-types="./http-ece.d.ts"
import contentEncoding from "http_ece";
import { importJWK, type JWTPayload, jwtVerify } from "jose";
import { type PushPayload, pushPayloadSchema } from "../../src/ground/push-payload.ts";
import type { PushSubscription } from "../../src/outputs/phones/ways/push-subscription.ts";
import { Certificates } from "./certificates.ts";

/** A push message that the service has taken, as only the browser can read it. */
export interface ReceivedPush {
  /** Name of the device. */
  readonly device: string;
  readonly payload: PushPayload;
  readonly headers: Headers;
  /** Of the token by which the sender was known (RFC 8292). */
  readonly claims: JWTPayload;
  /** The sender's public key. */
  readonly sender: string;
  readonly bytes: number;
}

interface Device {
  readonly pair: ECDH;
  readonly authentication: Buffer;
}

/**
 * A push service on loopback, and the browsers that are subscribed to it. It checks the sender's token
 * with one library and reads the message with another, neither of them the sender's own; what it
 * cannot check or read it answers with 400.
 */
export class PushService {
  readonly received: ReceivedPush[] = [];
  /** What the next requests are answered with in place of 201, and what headers beside. */
  readonly answers: { status: number; headers?: Record<string, string> }[] = [];
  /** While set, no request is answered until it resolves. */
  held: Promise<void> | undefined;
  /** Certificate of whom to trust, as PEM. */
  readonly authority: string;
  readonly #devices = new Map<string, Device>();
  readonly #server: Deno.HttpServer<Deno.NetAddr>;

  /** @param folder an own one, for certificates */
  constructor(folder: string) {
    const certificates = new Certificates(folder);
    certificates.sign("push-service", "subjectAltName=IP:127.0.0.1,DNS:localhost");
    const { authority, certificate: cert, key } = certificates.of("push-service");
    this.authority = authority;
    this.#server = Deno.serve(
      { hostname: "127.0.0.1", port: 0, cert, key, onListen: () => {} },
      (request) => this.#answer(request),
    );
  }

  get origin(): string {
    return `https://127.0.0.1:${this.#server.addr.port}`;
  }

  /** A browser asks for push messages; the same name again is a new subscription. */
  subscribe(device: string): PushSubscription {
    const pair = createECDH("prime256v1");
    const p256dh = pair.generateKeys("base64url");
    const authentication = randomBytes(16);
    this.#devices.set(device, { pair, authentication });
    return {
      endpoint: `${this.origin}/push/${device}?secret=s3cret`,
      expirationTime: null,
      keys: { p256dh, auth: authentication.toString("base64url") },
    };
  }

  stop(): Promise<void> {
    return this.#server.shutdown();
  }

  async #answer(request: Request): Promise<Response> {
    const body = Buffer.from(await request.arrayBuffer());
    await this.held;
    const { status, headers } = this.answers.shift() ?? { status: 201 };
    if (status !== 201) return new Response(null, { status, headers });
    try {
      this.received.push(await this.#read(request, body));
      return new Response(null, { status });
    } catch (error) {
      return new Response(String(error), { status: 400 });
    }
  }

  async #read(request: Request, body: Buffer): Promise<ReceivedPush> {
    const { pathname } = new URL(request.url);
    const device = pathname.slice("/push/".length);
    const { pair, authentication } = this.#devices.get(device) ?? missing(device);
    const { token, sender } = authorization(request.headers.get("Authorization") ?? "");
    const { payload: claims } = await jwtVerify(token, await publicKey(sender), {
      algorithms: ["ES256"],
      audience: this.origin,
    });
    const text = contentEncoding.decrypt(body, {
      version: "aes128gcm",
      privateKey: pair,
      authSecret: authentication,
    });
    const payload = pushPayloadSchema.parse(JSON.parse(text.toString("utf8")));
    const headers = new Headers(request.headers);
    return { device, payload, headers, claims, sender, bytes: body.length };
  }
}

/** `vapid t=TOKEN, k=KEY` (RFC 8292, section 3). */
export function authorization(header: string): { token: string; sender: string } {
  const found = /^vapid t=([\w.-]+), ?k=([\w-]+)$/.exec(header);
  if (found === null) throw new Error(`not the authorization of a sender: ${header}`);
  return { token: found[1], sender: found[2] };
}

/** A point of P-256 as jose reads it. */
export function publicKey(point: string) {
  const bytes = Buffer.from(point, "base64url");
  return importJWK({
    kty: "EC",
    crv: "P-256",
    x: bytes.subarray(1, 33).toString("base64url"),
    y: bytes.subarray(33, 65).toString("base64url"),
  }, "ES256");
}

function missing(device: string): never {
  throw new Error(`no browser is called ${device}`);
}
