import { dirname, join, normalize } from 'node:path/posix';
import { importsOf, type SourceFile } from './source-files.ts';

/**
 * The rooms of the service in the order of their arrows: a room may import the rooms below it, never one above.
 * Read downwards it is the road from a command to the bytes on the disk.
 */
export const SERVER_ROOMS = [
  'bin',
  'cli',
  'http',
  'service',
  'records',
  'stream',
  'devices',
  'plan',
  'bench',
  'set-ups',
  'measure',
  'state',
  'files',
] as const;

/** What one file imports of another of ours, with both rooms. */
export interface Arrow {
  from: string;
  to: string;
  fromRoom: string;
  toRoom: string;
}

/** A file that the given one imports, by its path from the root; null for a package. */
function targetOf(file: SourceFile, name: string): string | null {
  if (name.startsWith('.')) return normalize(join(dirname(file.path), name));
  const ours = /^@taptrue\/(server|web|simulators|protocol)(?:\/(.+))?$/.exec(name);
  return ours ? `${ours[1]}/${ours[2] ?? 'index.ts'}` : null;
}

/** The room of a file: in `server` the folder below it, elsewhere the part of the house. */
export function roomOf(path: string): string {
  const [part, room, ...rest] = path.split('/');
  if (part !== 'server') return part!;
  return rest.length > 0 ? room! : part;
}

/** Every import among the given files, those within a room too. */
export function arrowsOf(files: readonly SourceFile[]): Arrow[] {
  return files.flatMap((file) =>
    importsOf(file).flatMap((name) => {
      const to = targetOf(file, name);
      if (to === null) return [];
      return [{ from: file.path, to, fromRoom: roomOf(file.path), toRoom: roomOf(to) }];
    }),
  );
}

/** Arrows that climb: from a room to one above it, or to a folder that is no room. */
export function backArrows(arrows: readonly Arrow[]): Arrow[] {
  const place = (room: string) => (SERVER_ROOMS as readonly string[]).indexOf(room);
  return arrows.filter(({ from, to, fromRoom, toRoom }) => {
    if (!from.startsWith('server/') || !to.startsWith('server/') || fromRoom === toRoom) {
      return false;
    }
    return place(fromRoom) < 0 || place(toRoom) < 0 || place(fromRoom) > place(toRoom);
  });
}

/** Files that import each other in a circle, types included; each circle once. */
export function circlesOf(arrows: readonly Arrow[]): string[][] {
  const next = new Map<string, string[]>();
  for (const { from, to } of arrows) next.set(from, [...(next.get(from) ?? []), to]);
  const order = new Map<string, number>();
  const lowest = new Map<string, number>();
  const stack: string[] = [];
  const circles: string[][] = [];
  const visit = (file: string) => {
    order.set(file, order.size);
    lowest.set(file, order.get(file)!);
    stack.push(file);
    for (const to of next.get(file) ?? []) {
      if (!order.has(to)) visit(to);
      if (stack.includes(to)) {
        lowest.set(file, Math.min(lowest.get(file)!, lowest.get(to)!));
      }
    }
    if (lowest.get(file) !== order.get(file)) return;
    const circle = stack.splice(stack.indexOf(file));
    if (circle.length > 1) circles.push(circle);
  };
  for (const file of next.keys()) if (!order.has(file)) visit(file);
  return circles;
}
