import { BlockList, isIPv6 } from "node:net";

/** Addresses of this computer itself, and of networks that do not reach beyond the boat. */
const NEAR = new BlockList();
NEAR.addSubnet("127.0.0.0", 8, "ipv4"); // RFC 1122, loopback
NEAR.addSubnet("10.0.0.0", 8, "ipv4"); // RFC 1918, private
NEAR.addSubnet("172.16.0.0", 12, "ipv4");
NEAR.addSubnet("192.168.0.0", 16, "ipv4");
NEAR.addSubnet("169.254.0.0", 16, "ipv4"); // RFC 3927, link-local
NEAR.addAddress("::1", "ipv6"); // RFC 4291, loopback
NEAR.addSubnet("fe80::", 10, "ipv6"); // RFC 4291, link-local
NEAR.addSubnet("fc00::", 7, "ipv6"); // RFC 4193, unique local

/**
 * True for whoever is at this computer or on the boat's own network (contract §5). One who comes
 * through a proxy is afar: nobody can tell from where.
 */
export function isNear(address: string, headers: Headers): boolean {
  if (isThroughProxy(headers)) return false;
  const bare = address.replace(/^::ffff:(?=\d+\.)/i, "").replace(/%.*$/, "");
  return NEAR.check(bare, isIPv6(bare) ? "ipv6" : "ipv4");
}

/** What proxies say of themselves (RFC 7239; RFC 9110, section 7.6.3; the others by common practice). */
const OF_PROXIES = ["forwarded", "via", "x-real-ip", "x-forwarded-for", "x-forwarded-proto"];

export function isThroughProxy(headers: Headers): boolean {
  return OF_PROXIES.some((name) => headers.has(name));
}
