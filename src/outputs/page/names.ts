/** Names of signals and alarms as a person says them. */

/** `port engine`, `house battery`, `engine 0`; the group alone where that is enough. */
export function subjectWords(group: string, subject: string): string {
  const thing = spaced(group);
  if (subject === "" || subject === "boat" || subject === "main") return thing;
  if (subject === "port-starboard") return `port and starboard ${thing}s`;
  return /^\d+$/.test(subject) ? `${thing} ${subject}` : `${spaced(subject)} ${thing}`;
}

/** `oil pressure`, `low oil pressure`, `trouble code 100-1`. */
export function quantityWords(quantity: string): string {
  if (quantity.startsWith("status/")) return spaced(quantity.slice("status/".length));
  if (quantity.startsWith("fault/")) return `trouble code ${quantity.slice("fault/".length)}`;
  return /^\d+$/.test(quantity) ? `number ${quantity}` : spaced(quantity);
}

/** `Port engine oil pressure`, for a signal's name. */
export function signalTitle(signal: string): string {
  const [group, ...rest] = signal.split("/");
  const hasSubject = rest.length > 1 && rest[0] !== "status" && rest[0] !== "fault";
  const quantity = rest.slice(hasSubject ? 1 : 0).join("/");
  return capital(`${subjectWords(group, hasSubject ? rest[0] : "")} ${quantityWords(quantity)}`);
}

/** A word of a standard's list: `not-charging` → `not charging`. */
export function spaced(name: string): string {
  return name.replaceAll("-", " ");
}

/** `port engine` → `Port engine`. */
export function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

/** `hazel-comfort` → `Hazel Comfort`. */
export function boatTitle(name: string): string {
  return name.split("-").map(capital).join(" ");
}
