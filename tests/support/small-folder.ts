/** A folder with room for so many kilobytes, where this computer lets us make one; undefined where not. */
export class SmallFolder {
  private constructor(readonly path: string) {}

  static make(kilobytes: number): SmallFolder | undefined {
    const path = Deno.makeTempDirSync({ prefix: "sternfast-small-" });
    try {
      const { success } = new Deno.Command("mount", {
        args: ["-t", "tmpfs", "-o", `size=${kilobytes}k`, "tmpfs", path],
        stderr: "null",
      }).outputSync();
      if (success) return new SmallFolder(path);
    } catch { /* no mount here */ }
    Deno.removeSync(path);
    return undefined;
  }

  get #ballast(): string {
    return `${this.path}/ballast`;
  }

  /** Writes until there is no room. */
  fill(): void {
    const bytes = new Uint8Array(1024);
    using target = Deno.openSync(this.#ballast, { create: true, append: true });
    try {
      for (;;) if (target.writeSync(bytes) < bytes.length) return;
    } catch { /* it is full */ }
  }

  empty(): void {
    Deno.removeSync(this.#ballast);
  }

  remove(): void {
    new Deno.Command("umount", { args: [this.path] }).outputSync();
    Deno.removeSync(this.path);
  }
}
