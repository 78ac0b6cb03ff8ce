import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type BlockSet, checkerOf, JobFile } from '@taptrue/protocol';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { listening, must } from './running-service.ts';

type Running = Awaited<ReturnType<typeof listening>>;
let running: Running;
beforeAll(async () => {
  running = await listening({});
});
afterAll(() => running.clear());

const state = () => running.service.store.state;

const OWN_SET: BlockSet = {
  id: 'toolroom-three',
  title: 'three of the toolroom',
  unit: 'in',
  source: 'the case',
  fromMemory: false,
  blocks: [{ size: '0.1002' }, { size: '0.128' }, { size: '0.500' }],
};

describe('jobs and sets are kept as files', () => {
  test('a plan is kept, found again, and opened as it was', async () => {
    await must(running.port, {
      kind: 'change plan',
      change: {
        job: 'Plate 7',
        angle: { text: '82deg30min', kind: 'angle' },
        measuredFrom: { line: 'square to the jaw' },
      },
    });
    await must(running.port, { kind: 'keep job' });
    expect(state().jobs.jobs).toMatchObject([
      { id: 'plate-7', title: 'Plate 7', angleText: '82deg30min' },
    ]);
    await must(running.port, { kind: 'new plan' });
    expect(state().plan.question.angle.text).toBe('');
    await must(running.port, { kind: 'open job', id: 'plate-7' });
    expect(state().plan).toMatchObject({
      jobId: 'plate-7',
      changed: false,
      question: { job: 'Plate 7', measuredFrom: { line: 'square to the jaw' } },
    });
    expect(state().plan.answer?.angle.dmsText).toBe('7° 30′ 00″');
  });

  test('a copy for the other hand is a plan of its own, its stack not yet added up', async () => {
    await must(running.port, { kind: 'blocks taken', blocks: state().plan.answer!.stack!.blocks });
    await must(running.port, { kind: 'keep job' });
    await must(running.port, { kind: 'duplicate job', id: 'plate-7', otherHand: true });
    expect(state().plan).toMatchObject({
      jobId: null,
      built: false,
      taken: [],
      question: { hand: 'left-away', measuredFrom: { line: 'square to the jaw' } },
    });
    await must(running.port, { kind: 'keep job' });
    expect(state().jobs.jobs).toHaveLength(2);
  });

  test('what is downloaded opens elsewhere as the same job', async () => {
    const reply = await fetch(`http://localhost:${running.port}/api/jobs/plate-7`);
    const file = checkerOf(JobFile).check(await reply.json());
    if (!file.ok) throw new Error(file.why);
    await must(running.port, { kind: 'import job', file: file.value });
    expect(state().plan.question).toEqual(file.value.question);
  });

  test('a job kept before the line could be chosen opens as measured from the line along the jaw', async () => {
    const reply = await fetch(`http://localhost:${running.port}/api/jobs/plate-7`);
    const file = (await reply.json()) as JobFile;
    const { measuredFrom: _, ...old } = file.question;
    await must(running.port, { kind: 'import job', file: { ...file, question: old } });
    expect(state().plan.answer?.written).toMatchObject({ isTurned: false });
    await must(running.port, { kind: 'import job', file });
    expect(state().plan.answer?.written).toMatchObject({ isTurned: true });
  });

  test('the sheet is one page of HTML with the blocks on it', async () => {
    const reply = await fetch(`http://localhost:${running.port}/api/sheet?paper=letter`);
    expect(reply.headers.get('content-type')).toContain('text/html');
    const sheet = await reply.text();
    for (const block of state().plan.answer!.stack!.blocks) expect(sheet).toContain(block);
  });

  test('a set of the shop is kept and can be planned with; a shipped one cannot be written over', async () => {
    await must(running.port, { kind: 'keep set', set: OWN_SET });
    await must(running.port, { kind: 'change plan', change: { setId: OWN_SET.id } });
    expect(state().sets.sets.find((one) => one.set.id === OWN_SET.id)).toMatchObject({
      own: true,
      pieces: 3,
    });
    const refused = await running.service.command(
      { kind: 'keep set', set: { ...OWN_SET, id: 'inch-81' } },
      'bench screen',
    );
    expect(refused).toMatchObject({ ok: false, fault: { code: 'set-name-taken' } });
    const kept = await readFile(join(running.dataFolder, 'sets', `${OWN_SET.id}.json`), 'utf8');
    expect(JSON.parse(kept)).toEqual(OWN_SET);
  });

  test('a job planned with a set of the shop takes the set along', async () => {
    const reply = await fetch(`http://localhost:${running.port}/api/jobs/current`);
    const file = checkerOf(JobFile).check(await reply.json());
    if (!file.ok) throw new Error(file.why);
    expect(file.value.set).toEqual(OWN_SET);
    await must(running.port, { kind: 'remove set', id: OWN_SET.id });
    expect(state().plan.refusal?.field).toContain('set');
    await must(running.port, { kind: 'import job', file: file.value });
    expect(state().plan.refusal?.field ?? '').not.toContain('set');
    expect(state().sets.sets.some((one) => one.set.id === OWN_SET.id)).toBe(true);
  });

  test('a broken file stops nothing, is named, and is left as it is', async () => {
    const path = join(running.dataFolder, 'sets', 'broken.json');
    await mkdir(join(running.dataFolder, 'sets'), { recursive: true });
    await writeFile(path, '{"id": "broken"');
    await must(running.port, { kind: 'keep set', set: OWN_SET });
    expect(state().faults.standing).toMatchObject([{ code: 'file-not-read', from: 'sets' }]);
    expect(await readFile(path, 'utf8')).toBe('{"id": "broken"');
  });
});
