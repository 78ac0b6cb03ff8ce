import {
  type Answer,
  type BenchState,
  type Command,
  checkerOf,
  PROTOCOL_VERSION,
  RecordOverview,
  type ReplayMove,
  type ReplayOpened,
} from '@taptrue/protocol';
import {
  CLOSE_STANDING_AFTER_MS,
  CLOSE_UNWATCHED_AFTER_MS,
  MOST_REPLAYS,
  ReplayController,
} from '@taptrue/server/records/replay/replay-controller.ts';
import { Database } from '@taptrue/server/records/store/database.ts';
import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { command, listening, must, Page, until } from './running-service.ts';

const overviews = checkerOf(RecordOverview);

let bench: Awaited<ReturnType<typeof listening>>;
let job = '';
/** What the bench showed when it had been measured. */
let measured: ReturnType<typeof saidOf>;
const pages: Page[] = [];
const opened: string[] = [];
beforeAll(async () => {
  bench = await listening({ demo: true, demoSeed: 5 });
  job = await measure();
  measured = structuredClone(saidOf(bench.service.store.state));
});
afterEach(async () => {
  for (const page of pages.splice(0)) {
    page.understood();
    page.close();
  }
  for (const id of opened.splice(0)) await post(`/replay/${id}`, { move: 'close' });
});
afterAll(() => bench.clear());

async function post<T>(path: string, body: unknown): Promise<T> {
  const response = await fetch(`http://127.0.0.1:${bench.port}/api${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  return (await response.json()) as T;
}

async function openReplay(sweep: number | null = null) {
  const answer = await post<ReplayOpened>('/replay', { job, sweep });
  if (!answer.ok) throw new Error(`${answer.fault.code} ${answer.fault.got}`);
  const { id } = answer;
  opened.push(id);
  const page = new Page(bench.port, { path: `/replay/${id}/stream` });
  pages.push(page);
  await page.greeted();
  return {
    page,
    replay: () => page.state.replay!,
    move: (move: ReplayMove) => post<Answer>(`/replay/${id}`, move),
    command: (asked: Command) => post<Answer>(`/replay/${id}/command`, asked),
  };
}

const tableMoves = (isSo: boolean) => () => bench.service.store.get('demo')?.traversing === isSo;

/** One streamed sweep of the simulated bench, out, in some two seconds; and what the live screens then show. */
async function sweepOnce(): Promise<void> {
  await must(bench.port, { kind: 'demo', do: { act: 'table to', xMm: 0 } });
  await new Promise((resolve) => setTimeout(resolve, 200));
  await must(bench.port, { kind: 'begin sweep' });
  await must(bench.port, { kind: 'demo', do: { act: 'traverse', toMm: 127, mmPerSecond: 100 } });
  await until(tableMoves(true), 'the table to move');
  await until(tableMoves(false), 'the table to stand');
  await must(bench.port, { kind: 'end sweep' });
}

async function measure(): Promise<string> {
  await must(bench.port, { kind: 'change setup', change: { rises: 'toward', counts: 1 } });
  await sweepOnce();
  await must(bench.port, { kind: 'set stage', stage: 'snug' });
  await sweepOnce();
  return (await bench.service.records.whereItStood())!.openJob!;
}

/** What a job says: everything that a screen shows of it but the needle, and what is the service's own. */
function saidOf(state: Partial<BenchState>) {
  const { sweep, history, setup, nudges, pivot, tap, card } = state;
  return { sweep, history, setup, nudges, pivot, tap, card };
}

describe('a recorded job', () => {
  test('told again comes out to the last digit, on a stream of its own; the live one never shows it', async () => {
    const live = new Page(bench.port);
    pages.push(live);
    await live.greeted();
    const replayed = await openReplay();
    expect(replayed.page.state.history!.sweeps).toEqual([]);
    expect(replayed.replay().isPlaying).toBe(false);
    await replayed.move({ move: 'speed', speed: 50 });
    await replayed.move({ move: 'play' });
    await until(
      () => replayed.replay().atMs === replayed.replay().endsMs && !replayed.replay().isPlaying,
      'the end of the replay',
    );
    await until(() => replayed.page.state.history!.sweeps.length === 2, 'its last state');
    expect(saidOf(replayed.page.state)).toEqual(measured);
    expect(replayed.replay()).toMatchObject({ different: 0, why: '', piecesDamaged: 0 });
    expect(replayed.replay().same).toBeGreaterThanOrEqual(2);
    expect(replayed.replay().compared).toMatchObject({ sweep: 2, isSame: true });

    await must(bench.port, { kind: 'set stage', stage: 'tight' });
    await until(() => live.state.bench!.stage === 'tight', 'the live screen');
    expect(replayed.page.state.bench!.stage).toBe('snug');
    await must(bench.port, { kind: 'set stage', stage: 'snug' });
    for (const message of live.got) {
      if (message.type !== 'still here' && message.state.replay !== undefined)
        expect(message.state.replay).toBeNull();
    }
  });

  test('one sweep of it begins and ends with that sweep', async () => {
    const replayed = await openReplay(2);
    expect(replayed.page.state.history!.sweeps).toHaveLength(1);
    expect(replayed.page.state.sweep).toMatchObject({ id: 2, state: 'being taken' });
    await replayed.move({ move: 'to', atMs: replayed.replay().endsMs });
    await until(() => replayed.page.state.sweep?.state === 'ended', 'its end');
    expect(replayed.page.state.sweep!.result).toEqual(
      bench.service.store.get('history').sweeps[1]!.result,
    );
  });

  test('another limit is tried there, and the record stays as it is', async () => {
    const replayed = await openReplay();
    await replayed.move({ move: 'to', atMs: replayed.replay().endsMs });
    await until(() => replayed.page.state.history!.sweeps.length === 2, 'its end');
    const wide = { kind: 'end to end', mm: 20, overMm: null } as const;
    expect(await replayed.command({ kind: 'change setup', change: { limit: wide } })).toMatchObject(
      { ok: true },
    );
    await until(
      () => replayed.page.state.history!.sweeps.every(({ result }) => result.verdict === 'true'),
      'what follows',
    );
    expect(replayed.replay()).toMatchObject({
      whatIf: ['limit'],
      recordedSetup: { limit: { mm: 0.0254 } },
    });
    expect(await replayed.command({ kind: 'begin sweep' })).toMatchObject({
      ok: false,
      fault: { code: 'replay-measures-nothing' },
    });
    expect(bench.service.store.get('setup').limit).toMatchObject({ mm: 0.0254 });
    const again = await openReplay();
    await again.move({ move: 'to', atMs: again.replay().endsMs });
    await until(() => again.page.state.history!.sweeps.length === 2, 'the end of the other');
    expect(again.replay()).toMatchObject({ different: 0 });
  });

  test('shows its whole needle in as many columns as a screen has, with the moments worth stepping to', async () => {
    const response = await fetch(
      `http://127.0.0.1:${bench.port}/api/proof/jobs/${job}/overview?columns=300`,
    );
    const checked = overviews.parse(await response.text());
    if (!checked.ok) throw new Error(checked.why);
    const { columns, marks, readings } = checked.value;
    expect(columns).toHaveLength(300);
    expect(columns.filter((column) => column !== null).length).toBeGreaterThan(20);
    expect(readings).toBeGreaterThan(100);
    expect(marks.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['job', 'setup', 'sweep begins', 'sweep ends', 'stage']),
    );
  });
});

test('what is not kept, and more replays than the computer bears, are refused in words', async () => {
  const refusal = async (body: unknown) => {
    const answer = await post<ReplayOpened>('/replay', body);
    if (answer.ok) opened.push(answer.id);
    return answer.ok ? null : answer.fault.code;
  };
  expect(await refusal({ job: 'never-was', sweep: null })).toBe('record-not-found');
  expect(await refusal({ job, sweep: 9 })).toBe('sweep-not-found');
  for (let count = 0; count < MOST_REPLAYS; count += 1) await openReplay();
  expect(await refusal({ job, sweep: null })).toBe('too-many-replays');
  pages[0]!.close();
  await until(async () => (await refusal({ job, sweep: null })) === null, 'room for another');
  expect(await post('/replay/none', { move: 'play' })).toMatchObject({
    fault: { code: 'replay-closed' },
  });
  expect(await command(bench.port, { kind: 'set stage', stage: 'snug' })).toMatchObject({
    ok: true,
  });
});

test('one that nobody watches is closed after a minute, and one that stands still after half an hour', async () => {
  let nowMs = 0;
  const { records } = bench.service;
  const room = new ReplayController({ records, version: PROTOCOL_VERSION, now: () => nowMs });
  const answer = await room.open({ job, sweep: null });
  if (!answer.ok) throw new Error(answer.fault.code);
  nowMs += CLOSE_UNWATCHED_AFTER_MS;
  room.closeIdle();
  expect(room.count).toBe(1);
  const screen = { role: 'watcher', bufferedBytes: () => 0, send: () => undefined } as const;
  room.get(answer.id)!.hub.join({ ...screen, cut: () => undefined });
  nowMs = CLOSE_STANDING_AFTER_MS;
  room.closeIdle();
  expect(room.count).toBe(1);
  nowMs += 1;
  room.closeIdle();
  expect(room.get(answer.id)).toBeNull();
  await room.close();
});

test('a piece that is damaged on the disk is named, and the rest plays on', async () => {
  const db = new Database(bench.service.records.path);
  const piece = Number(
    db.get(
      `SELECT min(chunk.seq) AS seq FROM chunk JOIN job ON job.id = chunk.job_id
       WHERE job.key = ? AND chunk.seq > 4 AND chunk.readings = chunk.entries`,
      job,
    )?.seq,
  );
  db.run(
    `UPDATE chunk SET body = x'00ff00ff'
     WHERE seq = ? AND job_id = (SELECT id FROM job WHERE key = ?)`,
    piece,
    job,
  );
  db.close();
  const replayed = await openReplay();
  await replayed.move({ move: 'to', atMs: replayed.replay().endsMs });
  await until(() => replayed.page.state.history!.sweeps.length === 2, 'its end');
  expect(replayed.replay().piecesDamaged).toBe(1);
  const [fault] = replayed.page.state.faults!.standing;
  expect(fault).toMatchObject({ code: 'record-piece-damaged' });
  expect(fault!.got).toContain(`piece ${piece} of ${job}`);
});
