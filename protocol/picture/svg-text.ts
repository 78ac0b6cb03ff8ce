import { figure, type Mark } from './marks.ts';

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
};

const safe = (text: string) => text.replace(/[&<>"]/g, (mark) => ENTITIES[mark]!);

/** Marks as SVG text, for paper. Each part is a class. */
export function svgText(marks: readonly Mark[]): string {
  return marks.map(one).join('');
}

function one(mark: Mark): string {
  switch (mark.kind) {
    case 'path':
      return `<path class="${mark.part}" d="${mark.d}"/>`;
    case 'circle':
      return `<circle class="${mark.part}" cx="${figure(mark.at.x)}" cy="${figure(mark.at.y)}" r="${figure(mark.r)}"/>`;
    case 'word':
      return `<text class="${mark.part}" x="${figure(mark.at.x)}" y="${figure(mark.at.y)}" text-anchor="${mark.anchor}">${safe(mark.text)}</text>`;
    case 'group':
      return `<g class="${mark.part}" transform="${mark.transform}">${svgText(mark.marks)}</g>`;
  }
}
