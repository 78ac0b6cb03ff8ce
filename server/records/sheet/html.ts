const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Text as it may stand in a page, whatever a person or a file put into it. */
export function safe(text: string): string {
  return text.replace(/[&<>"']/g, (mark) => ENTITIES[mark]!);
}

/** Longer words of a card do not fit a page; the record has them whole. */
const MOST_ON_PAPER = 80;

export function shortened(text: string): string {
  return text.length > MOST_ON_PAPER ? `${text.slice(0, MOST_ON_PAPER - 1)}…` : text;
}

export type Fact = readonly [name: string, value: string | null];

/** Names and values; what is not known has a line to write on. */
export function factList(rows: readonly Fact[]): string {
  const row = ([name, value]: Fact) =>
    `<dt>${safe(name)}</dt><dd>${value === null || value === '' ? '<span class="blank"></span>' : safe(shortened(value))}</dd>`;
  return `<dl>${rows.map(row).join('')}</dl>`;
}
