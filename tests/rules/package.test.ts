import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { PROTOCOL_VERSION } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import { ROOT } from './source-files.ts';

const json = (name: string) => JSON.parse(readFileSync(join(ROOT, name), 'utf8'));

/** Licences that let the product be given to a shop as it is. */
const FINE = new Set([
  'MIT',
  'ISC',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'Apache-2.0',
  '0BSD',
  'CC0-1.0',
  'BlueOak-1.0.0',
  'BSL-1.0',
  'Unlicense',
]);

/** Builds the page and is not in it; its licence binds changes to its own files only. */
const BUILDS_THE_PAGE = /node_modules\/lightningcss(-[\w-]+)?$/;

interface Locked {
  dev?: boolean;
  optional?: boolean;
  link?: boolean;
  license?: string;
}

describe('the package', () => {
  it('carries the version that screens and records say', () => {
    expect(json('package.json').version).toBe(`${PROTOCOL_VERSION}.0`);
  });

  it('writes down what changed in this version', () => {
    const changes = readFileSync(join(ROOT, 'protocol/CHANGES.md'), 'utf8');
    expect(changes).toContain(`## ${PROTOCOL_VERSION}\n`);
  });

  it('ships nothing under a licence that binds whoever uses it', () => {
    const packages = Object.entries(json('package-lock.json').packages as Record<string, Locked>);
    const shipped = packages.filter(
      ([path, { dev, link }]) => path.includes('node_modules/') && !dev && !link,
    );
    expect(shipped.length).toBeGreaterThan(50);
    const other = shipped.filter(([path, { license }]) => {
      if (BUILDS_THE_PAGE.test(path) && license === 'MPL-2.0') return false;
      const choices = (license ?? 'none').replace(/[()]/g, '').split(' OR ');
      return !choices.some((choice) => choice.split(' AND ').every((one) => FINE.has(one)));
    });
    expect(other.map(([path, { license }]) => `${path}: ${license}`)).toEqual([]);
  });
});
