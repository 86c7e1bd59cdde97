import { Certificates } from "./certificates.ts";
import { freePort } from "./mosquitto.ts";

export const USER = "hazel-comfort";
export const PASSWORD = "correct-horse-s3cret";

/**
 * Exim, a mail server of the world, on loopback: it takes mail for boat.example only, only by TLS and
 * only from whom it knows, and brings it into a folder. It runs as root, which it leaves for its own
 * user.
 */
export class Exim {
  readonly authority: string;
  readonly #process: Deno.ChildProcess;

  private constructor(
    readonly folder: string,
    /** TLS from the first byte, and by STARTTLS. */
    readonly ports: { readonly smtps: number; readonly smtp: number },
    authority: string,
  ) {
    this.authority = authority;
    this.#process = new Deno.Command("exim4", {
      args: ["-bdf", "-q1m", "-C", `${folder}/exim.conf`],
      stdin: "null",
      stdout: "null",
      stderr: "null",
    }).spawn();
  }

  /** @param folder an own one, which its user may enter */
  static async start(folder: string): Promise<Exim> {
    const certificates = new Certificates(folder);
    certificates.sign("mail", "subjectAltName=IP:127.0.0.1,DNS:localhost");
    const { authority, certificate, key } = certificates.of("mail");
    const ports = { smtps: freePort(), smtp: freePort() };
    Deno.writeTextFileSync(`${folder}/served.pem`, certificate + key);
    Deno.writeTextFileSync(`${folder}/exim.conf`, settings(folder, ports));
    for (const part of ["box", "spool"]) Deno.mkdirSync(`${folder}/${part}`);
    for (const part of ["", "/box", "/spool"]) Deno.chmodSync(folder + part, 0o777);
    // Settings that others could write are not read.
    for (const part of ["exim.conf", "served.pem"]) Deno.chmodSync(`${folder}/${part}`, 0o644);
    const exim = new Exim(folder, ports, authority);
    await exim.#listening();
    return exim;
  }

  /** The mails that have come, as they lie in the box. */
  get box(): string[] {
    const place = `${this.folder}/box/new`;
    try {
      return [...Deno.readDirSync(place)].map(({ name }) =>
        Deno.readTextFileSync(`${place}/${name}`)
      );
    } catch {
      return [];
    }
  }

  async stop(): Promise<void> {
    this.#process.kill("SIGTERM");
    await this.#process.status;
  }

  async #listening(): Promise<void> {
    let isOver = false;
    void this.#process.status.then(() => isOver = true);
    while (!isOver) {
      try {
        (await Deno.connect({ hostname: "127.0.0.1", port: this.ports.smtp })).close();
        return;
      } catch {
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    }
    throw new Error("exim has ended before it listened");
  }
}

function settings(folder: string, { smtps, smtp }: Exim["ports"]): string {
  return `
exim_user = Debian-exim
exim_group = Debian-exim
spool_directory = ${folder}/spool
log_file_path = ${folder}/spool/%slog
pid_file_path = ${folder}/spool/pid
primary_hostname = mail.example
keep_environment =
local_interfaces = 127.0.0.1
daemon_smtp_ports = ${smtps} : ${smtp}
tls_on_connect_ports = ${smtps}
tls_advertise_hosts = *
tls_certificate = ${folder}/served.pem
auth_advertise_hosts = \${if def:tls_in_cipher {*}}
acl_smtp_rcpt = recipient
host_lookup =

begin acl
recipient:
  deny !authenticated = *
       message = 530 who are you
  deny domains = !boat.example
       message = 550 nobody here
  accept

begin routers
box:
  driver = accept
  transport = box

begin transports
box:
  driver = appendfile
  directory = ${folder}/box
  maildir_format
  user = Debian-exim

begin authenticators
plain:
  driver = plaintext
  public_name = PLAIN
  server_prompts = :
  server_condition = \${if and{{eq{$auth2}{${USER}}}{eq{$auth3}{${PASSWORD}}}}}
  server_set_id = $auth2
`;
}
