import { describe, expect, it } from 'vitest';
import { arrowsOf, backArrows, circlesOf } from './arrows.ts';
import { importsOf, type SourceFile, sourceFiles } from './source-files.ts';

/** Files of a room that import what matches, as "file -> import". */
function breaches(files: SourceFile[], forbidden: RegExp, excused: string[] = []): string[] {
  return files
    .filter((file) => !excused.includes(file.path))
    .flatMap((file) =>
      importsOf(file)
        .filter((name) => forbidden.test(name))
        .map((name) => `${file.path} -> ${name}`),
    );
}

const IO =
  /^(node:(fs|net|http|https|child_process|dgram|tls|worker_threads)|serialport|ws|fastify|@fastify\/|@serialport\/)/;
const PURE = [
  'server/measure',
  'server/bench',
  'server/devices/health',
  'server/records/archive',
  'server/set-ups',
  'web/view',
  'web/places/devices/view',
  'web/places/plan/view',
  'web/places/proof/view',
  'web/places/replay/view',
  'protocol',
];

describe('arrows between the rooms', () => {
  it('the protocol imports nothing of ours', () => {
    const outside = arrowsOf(sourceFiles('protocol')).filter(({ toRoom }) => toRoom !== 'protocol');
    expect(outside).toEqual([]);
  });

  it('the page and the service meet in the protocol only', () => {
    expect(breaches(sourceFiles('web'), /@taptrue\/(server|simulators)|\.\.\/server/)).toEqual([]);
    expect(breaches(sourceFiles('server'), /@taptrue\/web|\.\.\/web/)).toEqual([]);
  });

  it('the simulators know the protocol and nothing else of ours', () => {
    expect(
      breaches(sourceFiles('simulators'), /@taptrue\/(server|web)|\.\.\/(server|web)/),
    ).toEqual([]);
  });

  it('the service reaches the simulators by one door, and the simulate command', () => {
    const excused = [
      'server/devices/demo/demo-door.ts',
      'server/cli/simulate-command.ts',
      'server/cli/simulate-options.ts',
    ];
    expect(breaches(sourceFiles('server'), /@taptrue\/simulators/, excused)).toEqual([]);
  });
});

describe('the rooms of the service', () => {
  const files = sourceFiles('server', 'protocol', 'web', 'simulators');

  it('import only what lies below them', () => {
    expect(backArrows(arrowsOf(files)).map(({ from, to }) => `${from} -> ${to}`)).toEqual([]);
  });

  it('go in no circle, of types either', () => {
    expect(circlesOf(arrowsOf(files))).toEqual([]);
  });

  it('a planted arrow upwards is found, and a planted circle', () => {
    const planted = [
      { path: 'server/measure/line.ts', text: "import { a } from '../records/a.ts';" },
      { path: 'server/records/a.ts', text: "import type { L } from '../measure/line.ts';" },
    ];
    expect(backArrows(arrowsOf(planted)).map(({ to }) => to)).toEqual(['server/records/a.ts']);
    expect(circlesOf(arrowsOf(planted))).toHaveLength(1);
  });

  it('a folder that is no room is found', () => {
    const planted = [{ path: 'server/cli/a.ts', text: "import '../oddments/b.ts';" }];
    expect(backArrows(arrowsOf(planted))).toHaveLength(1);
  });

  it('the mathematics of a sweep imports the protocol and nothing else of ours', () => {
    const outside = arrowsOf(sourceFiles('server/measure')).filter(
      ({ toRoom }) => toRoom !== 'measure' && toRoom !== 'protocol',
    );
    expect(outside).toEqual([]);
  });
});

describe('computation is pure', () => {
  it.each(PURE)('%s does no I/O', (room) => {
    expect(breaches(sourceFiles(room), IO)).toEqual([]);
  });

  it.each(PURE)('%s reads no clock and throws no dice', (room) => {
    const impure =
      /\b(Date\.now|new Date\(|performance\.now|Math\.random|setTimeout|setInterval)\b/;
    const found = sourceFiles(room).filter((file) => impure.test(file.text));
    expect(found.map((file) => file.path)).toEqual([]);
  });
});

describe('one writer per resource', () => {
  const holders = (pattern: RegExp) =>
    sourceFiles('server')
      .filter((file) => pattern.test(file.text))
      .map((file) => file.path);

  it('only the live socket sends on a socket of the stream', () => {
    expect(holders(/\bsocket\.send\(/)).toEqual(['server/http/live-socket.ts']);
  });

  it('only the memory of the bench syncs a file of its own to the disk', () => {
    expect(holders(/\.datasync\(/)).toEqual(['server/service/bench-memory.ts']);
  });

  it('only one file adds to a record', () => {
    expect(holders(/INTO chunk/)).toEqual(['server/records/store/append.ts']);
  });
});

describe('files stay small enough to have one idea', () => {
  it('none of ours is longer than 400 lines', () => {
    const long = sourceFiles('protocol', 'server', 'web', 'simulators')
      .map((file) => ({ path: file.path, lines: file.text.split('\n').length }))
      .filter((file) => file.lines > 400);
    expect(long).toEqual([]);
  });
});
