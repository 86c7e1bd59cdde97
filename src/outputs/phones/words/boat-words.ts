/** A boat's name as it stands on her stern: `hazel-comfort` is Hazel Comfort. */
export function boatWords(name: string): string {
  return name.split("-").map((word) => word.charAt(0).toUpperCase() + word.slice(1)).join(" ");
}
