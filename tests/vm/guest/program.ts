/** Where the host has put a program for the machine. */
export function program(name: string): string {
  return `${Deno.env.get("programs")}/${name}`;
}
