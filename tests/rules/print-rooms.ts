import { arrowsOf, backArrows, circlesOf, SERVER_ROOMS } from './arrows.ts';
import { sourceFiles } from './source-files.ts';

/** `npm run rooms`: the rooms of the service in the order of their arrows, and what climbs or goes in circles. */
const files = sourceFiles('server', 'protocol', 'web', 'simulators');
const arrows = arrowsOf(files);
const circles = circlesOf(arrows);
const back = backArrows(arrows);

for (const room of SERVER_ROOMS) {
  const inside = files.filter(({ path }) => path.startsWith(`server/${room}/`)).length;
  const below = SERVER_ROOMS.flatMap((other) => {
    const count = arrows.filter(
      ({ from, fromRoom, toRoom }) =>
        from.startsWith('server/') && fromRoom === room && toRoom === other && room !== other,
    ).length;
    return count > 0 ? [`${other} ${count}`] : [];
  });
  console.log(`${room.padEnd(9)} ${String(inside).padStart(4)} files  -> ${below.join(', ')}`);
}
console.log(`\nback arrows ${back.length}, circles ${circles.length}`);
for (const { from, to } of back) console.log(`  ${from} -> ${to}`);
for (const circle of circles) console.log(`  ${circle.join(' -> ')}`);
process.exitCode = back.length + circles.length > 0 ? 1 : 0;
