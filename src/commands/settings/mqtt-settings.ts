import type { BrokerSettings } from "../../outputs/mqtt/broker-connection.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { readSecret } from "./secrets.ts";
import type { MqttSettings } from "./settings.ts";

/** Everything that a connection needs, secrets and certificates read. */
export async function brokerSettings(
  url: string,
  settings: MqttSettings | undefined,
): Promise<BrokerSettings> {
  checkAddress(url);
  const { user, version, password, authority, certificate, key } = settings ?? {};
  return {
    url,
    user,
    version,
    password: password && await readSecret(password),
    authority: authority && await readSecret(authority),
    certificate: certificate && await readSecret(certificate),
    key: key && await readSecret(key),
  };
}

/** @throws {CommandFailure} for what is no broker's address */
function checkAddress(url: string): void {
  const parsed = URL.parse(url);
  if (parsed !== null && /^mqtts?:$/.test(parsed.protocol) && parsed.hostname !== "") return;
  // A user and a password may stand in it.
  const found = url.includes("@") ? "a text that is not shown here" : `"${url}"`;
  throw new CommandFailure(
    `--broker: found ${found}, expected mqtt://HOST:PORT, mqtts://HOST:PORT or embedded`,
  );
}
