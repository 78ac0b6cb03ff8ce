import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const VIEW = fileURLToPath(new URL('../../../web/view/', import.meta.url));

describe('the view is pure', () => {
  it.each(readdirSync(VIEW))('%s names no clock, no chance, no page and no network', (file) => {
    const text = readFileSync(`${VIEW}/${file}`, 'utf8');
    expect(text).not.toMatch(
      /Date\.now|performance\.now|Math\.random|document\.|window\.|fetch\(|WebSocket/,
    );
  });
});
