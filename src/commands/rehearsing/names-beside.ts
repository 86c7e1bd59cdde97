import { basename, dirname, join } from "node:path";

/** An ending begins with a letter: `.log.gz`, but not the `.2` of `trip.2.log.gz`. */
const ENDINGS = /(?<=.)(?:\.[a-z][a-z\d]*)+$/i;
const LAST_PART = /(?<=.)\.[^.]*$/;

/** Where the expectations of a recording are drafted: all its endings off. */
export function draftPlace(recording: string): string {
  const name = basename(recording).replace(ENDINGS, "");
  return join(dirname(recording), `${name}.expect.yaml`);
}

/**
 * Where the expectations of a recording may lie, the one that counts first: `trip.2.expect.yaml`
 * before `trip.expect.yaml`.
 */
export function expectationPlaces(recording: string): string[] {
  const folder = dirname(recording);
  const places: string[] = [];
  for (let name = basename(recording), before = ""; name !== before;) {
    places.push(join(folder, `${name}.expect.yaml`), join(folder, `${name}.expect.yml`));
    before = name;
    name = name.replace(LAST_PART, "");
  }
  return places;
}
