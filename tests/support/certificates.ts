/** Certificates made with openssl, for one test: an authority, and what it has signed. */
export class Certificates {
  constructor(readonly folder: string) {
    this.#openssl(
      ...["req", "-x509", ...CURVE, "-nodes", "-days", "2", "-subj", "/CN=our boats"],
      ...["-keyout", this.#file("authority.key"), "-out", this.#file("authority.crt")],
    );
  }

  /** Makes NAME.key and NAME.crt. */
  sign(name: string, alternative?: string): void {
    const file = (ending: string) => this.#file(`${name}.${ending}`);
    this.#openssl(
      ...["req", ...CURVE, "-nodes", "-subj", `/CN=${name}`],
      ...["-keyout", file("key"), "-out", file("csr")],
    );
    Deno.writeTextFileSync(file("ext"), alternative ?? "basicConstraints=CA:FALSE");
    this.#openssl(
      ...["x509", "-req", "-in", file("csr"), "-days", "2", "-extfile", file("ext")],
      ...["-CA", this.#file("authority.crt"), "-CAkey", this.#file("authority.key")],
      ...["-CAcreateserial", "-out", file("crt")],
    );
    // mosquitto gives up root's rights and must still read it.
    Deno.chmodSync(file("key"), 0o644);
  }

  /** What a connection by this certificate needs. */
  of(name: string) {
    return {
      authority: this.#text("authority.crt"),
      certificate: this.#text(`${name}.crt`),
      key: this.#text(`${name}.key`),
    };
  }

  #text(name: string): string {
    return Deno.readTextFileSync(this.#file(name));
  }

  #file(name: string): string {
    return `${this.folder}/${name}`;
  }

  #openssl(...args: string[]): void {
    const { success, stderr } = new Deno.Command("openssl", { args }).outputSync();
    if (!success) throw new Error(new TextDecoder().decode(stderr));
  }
}

const CURVE = ["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256"];
