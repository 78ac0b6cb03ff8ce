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

export type Fact = readonly [name: string, value: string | null];

/** Names and values; what is not known has a line to write on. */
export function factList(rows: readonly Fact[]): string {
  const row = ([name, value]: Fact) =>
    `<dt>${safe(name)}</dt><dd>${value === null || value === '' ? '<span class="blank"></span>' : safe(value)}</dd>`;
  return `<dl>${rows.map(row).join('')}</dl>`;
}
