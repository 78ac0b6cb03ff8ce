/** Deeper than any shape file by half; a file nested further is refused before it is read. */
export const DEEPEST_NESTING = 16;
/** Values in one file; the largest shape that the schema allows has fewer. */
export const MOST_VALUES = 20_000;

/** Where each value of a JSON text begins, by its path (`/shape/fields/3`), or where the text goes wrong. */
export type JsonPlaces =
  | { ok: true; places: ReadonlyMap<string, number> }
  | { ok: false; at: number; why: string };

class Wrong extends Error {
  constructor(
    readonly at: number,
    readonly why: string,
  ) {
    super(why);
  }
}

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;

/** Looks at every character once. What it accepts is exactly JSON, with every name used once. */
class Scanner {
  readonly places = new Map<string, number>();
  private at = 0;

  constructor(private readonly text: string) {}

  whole(): void {
    this.value('', 0);
    this.space();
    if (this.at < this.text.length) this.wrong('the end of the file is expected here');
  }

  private value(path: string, depth: number): void {
    this.space();
    if (depth > DEEPEST_NESTING) this.wrong(`nested deeper than ${DEEPEST_NESTING}`);
    if (this.places.size >= MOST_VALUES) this.wrong(`more than ${MOST_VALUES} values`);
    this.places.set(path, this.at);
    const character = this.text.charAt(this.at);
    if (character === '{') this.object(path, depth);
    else if (character === '[') this.array(path, depth);
    else if (character === '"') this.string();
    else if (!['true', 'false', 'null'].some((word) => this.word(word))) this.number();
  }

  private object(path: string, depth: number): void {
    const names = new Set<string>();
    this.listed('}', () => {
      this.space();
      const from = this.at;
      if (this.text.charAt(from) !== '"') this.wrong('a name in double quotes is expected here');
      const name = this.string();
      if (names.has(name)) throw new Wrong(from, `"${name}" stands here a second time`);
      names.add(name);
      this.space();
      if (!this.word(':')) this.wrong(`a colon is expected after "${name}"`);
      this.value(`${path}/${name}`, depth + 1);
    });
  }

  private array(path: string, depth: number): void {
    let index = 0;
    this.listed(']', () => {
      this.value(`${path}/${index}`, depth + 1);
      index += 1;
    });
  }

  private listed(end: string, one: () => void): void {
    this.at += 1;
    this.space();
    if (this.word(end)) return;
    for (;;) {
      one();
      this.space();
      if (this.word(end)) return;
      if (!this.word(',')) this.wrong(`a comma or ${end} is expected here`);
    }
  }

  private string(): string {
    const from = this.at;
    for (this.at += 1; this.at < this.text.length; this.at += 1) {
      const character = this.text.charAt(this.at);
      if (character < ' ') this.wrong('the double quote at its end is missing');
      if (character === '\\') this.at += 1;
      else if (character === '"') {
        this.at += 1;
        try {
          return JSON.parse(this.text.slice(from, this.at)) as string;
        } catch {
          throw new Wrong(from, 'a text with an unknown \\ in it; \\u0002 is how STX is written');
        }
      }
    }
    throw new Wrong(from, 'the double quote at its end is missing');
  }

  private number(): void {
    NUMBER.lastIndex = this.at;
    const found = NUMBER.exec(this.text);
    if (found === null)
      this.wrong('a value is expected here: text in double quotes, a number, { or [');
    this.at += found[0].length;
  }

  private word(word: string): boolean {
    if (!this.text.startsWith(word, this.at)) return false;
    this.at += word.length;
    return true;
  }

  private space(): void {
    while (' \t\r\n'.includes(this.text.charAt(this.at) || 'x')) this.at += 1;
  }

  private wrong(why: string): never {
    throw new Wrong(this.at, why);
  }
}

export function jsonPlaces(text: string): JsonPlaces {
  const scanner = new Scanner(text);
  try {
    scanner.whole();
    return { ok: true, places: scanner.places };
  } catch (error) {
    if (error instanceof Wrong) return { ok: false, at: error.at, why: error.why };
    throw error;
  }
}

/** Line and column of a character, both from 1. */
export function lineAndColumn(text: string, at: number): { line: number; column: number } {
  let line = 1;
  let lineBegins = 0;
  for (let next = text.indexOf('\n'); next >= 0 && next < at; next = text.indexOf('\n', next + 1)) {
    line += 1;
    lineBegins = next + 1;
  }
  return { line, column: at - lineBegins + 1 };
}
