import { expect, it } from 'vitest';
import { sourceFiles } from './source-files.ts';

/** Words that made people at a machine stop and read again; whoever says one of these things says it otherwise. */
const STUMBLED_ON = [
  /too crooked`|× too crooked/,
  /Points fall by themselves/,
  /\ba pass back\b(?=[^*]*['`])/,
  /pivot declared/,
  /1\.645 u['`]/,
  /Not to be had for this job/,
  /Put it on/,
  /To be minded/,
  /Take a recording in/,
  /How late readings come/,
  /still to go at the mallet/,
  /A public course text/,
  /Stylus is at the/,
  /'Stylus to (left|right) end'/,
  /toward the column'/,
  /top: 'column'|word\('column'/,
  /'plainly'|compared plainly/,
];

const withoutComments = (text: string) =>
  text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');

function said(files: readonly { path: string; text: string }[]): string[] {
  return files.flatMap(({ path, text }) => {
    const words = withoutComments(text);
    return STUMBLED_ON.filter((old) => old.test(words)).map((old) => `${path}: ${old.source}`);
  });
}

it('no word that was stumbled on is said again', () => {
  expect(said(sourceFiles('web', 'server', 'protocol'))).toEqual([]);
});

it('one that is said is found, and a comment is not', () => {
  expect(said([{ path: 'a.ts', text: "const head = 'To be minded';" }])).toHaveLength(1);
  expect(said([{ path: 'a.ts', text: '/** To be minded. */' }])).toEqual([]);
});
