import { BenchState, checkerOf, type PlanQuestion } from '@taptrue/protocol';
import { describe, expect, it } from 'vitest';
import * as plans from '../example-plans.ts';
import { sharedPage } from './shared-page.ts';

const NOTHING_DECIDED: PlanQuestion['decisions'] = { steep: null, shallow: null, nearest: null };

describe('the plans the page is tried on', () => {
  const check = checkerOf(BenchState);
  it.each(Object.entries(plans).filter(([name]) => name !== 'planOf'))(
    '%s is a state the service could send',
    (_name, make) => {
      const checked = check.check((make as () => BenchState)());
      expect(checked.ok ? '' : checked.why).toBe('');
    },
  );
});

describe('the print is put into the plan', () => {
  const shared = sharedPage();
  const open = (state: BenchState, role?: 'watcher') =>
    shared.open({ state, place: 'plan', ...(role ? { role } : {}) });

  it('an angle is sent as it was typed, and nothing decided for another one is kept', async () => {
    const { page, commands, close } = await open(plans.emptyPlanPlace());
    await page.getByLabel('Angle, as written').fill('7°30′');
    await page.getByLabel('Angle, as written').press('Enter');
    await page.getByRole('button', { name: 'taper', exact: true }).click();
    await expect
      .poll(() => commands)
      .toEqual([
        {
          kind: 'change plan',
          change: { angle: { text: '7°30′', kind: 'angle' }, decisions: NOTHING_DECIDED },
        },
        {
          kind: 'change plan',
          change: { angle: { text: '', kind: 'taper included' }, decisions: NOTHING_DECIDED },
        },
      ]);
    await close();
  });

  it('12.30 is asked back, and the answer writes what was meant', async () => {
    const { page, commands, close } = await open(plans.examplePlanAsked());
    expect(await page.getByRole('button', { name: 'Go on to the sweep' }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: '12deg30min is 12° 30′ 0″' }).click();
    await expect
      .poll(() => commands)
      .toMatchObject([{ change: { angle: { text: '12deg30min', kind: 'angle' } } }]);
    await close();
  });

  it('the same angle stands there in every other way', async () => {
    const { page, close } = await open(plans.examplePlanMade());
    const echo = page.getByLabel('The same angle');
    for (const text of ['7° 30′ 00″', '7.5°', '0.65263 in, 16.5768 mm'])
      expect(await echo.textContent()).toContain(text);
    await close();
  });

  it('a tolerance by class is sent once the shorter leg is known, not before', async () => {
    const { page, commands, close } = await open(plans.emptyPlanPlace());
    await page.getByRole('button', { name: 'ISO 2768-1 class' }).click();
    await page.getByRole('button', { name: 'c, coarse', exact: true }).click();
    expect(commands).toEqual([]);
    await page.getByLabel('Shorter leg of the angle').fill('40mm');
    await page.getByLabel('Shorter leg of the angle').press('Tab');
    await expect
      .poll(() => commands)
      .toEqual([
        {
          kind: 'change plan',
          change: { tolerance: { kind: 'iso 2768-1', class: 'c', shorterLeg: '40mm' } },
        },
      ]);
    await close();
  });

  it('a tolerance as a rise is sent with both its lengths', async () => {
    const { page, commands, close } = await open(plans.emptyPlanPlace());
    await page.getByRole('button', { name: 'rise over a length' }).click();
    await page.getByLabel('Rise, ±').fill('0.002in');
    await page.getByLabel('over', { exact: true }).fill('5in');
    await page.getByLabel('over', { exact: true }).press('Tab');
    await expect
      .poll(() => commands)
      .toEqual([
        {
          kind: 'change plan',
          change: { tolerance: { kind: 'rise', rise: '0.002in', over: '5in' } },
        },
      ]);
    await close();
  });

  it.each([
    ['a tenth', [{ kind: 'change plan', change: { setUpShare: 0.1 } }]],
    ['a fifth', [{ kind: 'change plan', change: { setUpShare: 0.2 } }]],
  ])('the set-up may take %s of it', async (name, expected) => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.getByRole('button', { name }).click();
    await expect.poll(() => commands).toEqual(expected);
    await close();
  });

  it('a typed share goes as a share, and one that is none goes nowhere', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.getByRole('button', { name: 'typed', exact: true }).click();
    const field = page.getByLabel('Share of the set-up, per cent');
    await field.fill('140');
    await field.press('Tab');
    await page.getByText('is not a share between 0 and 100').waitFor();
    expect(commands).toEqual([]);
    await field.fill('15');
    await field.press('Tab');
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'change plan', change: { setUpShare: 0.15 } }]);
    await close();
  });

  it('the hand is chosen on the picture', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.getByRole('button', { name: 'left end away' }).click();
    await page.getByRole('button', { name: 'at the front' }).click();
    await expect
      .poll(() => commands)
      .toEqual([
        { kind: 'change plan', change: { hand: 'left-away' } },
        { kind: 'change plan', change: { jaw: { solid: 'front', width: '6in' } } },
      ]);
    await close();
  });

  it('the line the angle is measured from is chosen on a picture, by mouse or by key', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    const lines = page.getByRole('region', { name: 'Measured from' });
    expect(await lines.locator('button svg .cut-edge').count()).toBe(5);
    const along = lines.getByRole('button', { name: 'the edge along the jaw' });
    expect(await along.getAttribute('aria-pressed')).toBe('true');
    await lines.getByRole('button', { name: 'the edge square to the jaw' }).locator('svg').click();
    await along.focus();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Space');
    await expect
      .poll(() => commands)
      .toEqual(
        ['square to the jaw', 'centreline along the jaw'].map((line) => ({
          kind: 'change plan',
          change: { measuredFrom: { line }, decisions: NOTHING_DECIDED },
        })),
      );
    await close();
  });

  it('says what was written and what is set, and draws both choices at the hand of the job', async () => {
    const state = plans.planOf({
      angle: { text: '77deg30min', kind: 'angle' },
      measuredFrom: { line: 'square to the jaw' },
    });
    const { page, change, close } = await open(state);
    const lines = page.getByRole('region', { name: 'Measured from' });
    await lines.getByText('77° 30′ 00″ from the line square to the jaw: set 12° 30′ 00″').waitFor();
    const jaw = () => lines.locator('button svg .jaw').first().getAttribute('d');
    const right = await jaw();
    change({ plan: { ...state.plan, question: { ...state.plan.question, hand: 'left-away' } } });
    await expect.poll(jaw).not.toBe(right);
    await close();
  });

  it('asks for the angle of another edge, and on which side of it the cut lies', async () => {
    const edge = { line: 'another edge', edgeAngle: '5deg', cut: 'beyond the edge' } as const;
    const { page, commands, close } = await open(
      plans.planOf({ angle: { text: '15deg', kind: 'angle' }, measuredFrom: edge }),
    );
    await page.getByLabel('Angle of that edge from the jaw').fill('6deg');
    await page.getByLabel('Angle of that edge from the jaw').press('Tab');
    await page.getByRole('button', { name: 'the edge leans the other way' }).click();
    await expect
      .poll(() => commands)
      .toMatchObject([
        { change: { measuredFrom: { ...edge, edgeAngle: '6deg' } } },
        { change: { measuredFrom: { ...edge, cut: 'across the jaw line' } } },
      ]);
    await close();
  });

  it('a job that says by its way of writing that half is set says it by the picture', async () => {
    const { page, commands, close } = await open(
      plans.planOf({ angle: { text: '25deg', kind: 'included angle' } }),
    );
    const about = page.getByRole('button', { name: 'side to side, centreline along the jaw' });
    expect(await about.getAttribute('aria-pressed')).toBe('true');
    await page.getByRole('button', { name: 'the edge along the jaw' }).click();
    await expect
      .poll(() => commands)
      .toMatchObject([
        { change: { measuredFrom: { line: 'along the jaw' }, angle: { kind: 'angle' } } },
      ]);
    await close();
  });

  it('two things said of the bar in quick succession do not undo each other', async () => {
    const { page, commands, close } = await open(plans.examplePlanMade());
    await page.route('**/api/command', async (route) => {
      commands.push(route.request().postDataJSON());
      await new Promise((resolve) => setTimeout(resolve, 300));
      await route.fulfill({ json: { ok: true, note: '' } });
    });
    await page.getByLabel('Length, as known').fill('9.834in');
    await page.getByRole('button', { name: 'certified' }).click();
    await expect
      .poll(() => commands.at(-1))
      .toMatchObject({ change: { bar: { length: '9.834in', lengthIs: 'certified' } } });
    await close();
  });

  it('a set from memory is to be compared with the case', async () => {
    const { page, commands, close } = await open(
      plans.planOf({
        setId: 'metric-46',
        bar: { ...plans.planOf({}).plan.question.bar!, length: '100mm' },
      }),
    );
    const { set } = plans.emptyPlanPlace().sets.sets.find((one) => one.set.id === 'metric-46')!;
    expect(await page.getByText('compare with your case').count()).toBe(set.fromMemory ? 1 : 0);
    await page.getByLabel('Set in the case').selectOption('inch-36');
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'change plan', change: { setId: 'inch-36', without: [] } }]);
    await close();
  });

  it.each([
    [plans.examplePlanSteep, 'Set the complement', { steep: 'complement' }],
    [plans.examplePlanTooThin, 'Blocks under both rolls', { shallow: 'both rolls' }],
  ])('an offer taken writes the decision, %#', async (make, name, decisions) => {
    const { page, commands, close } = await open(make());
    await page.getByRole('button', { name }).click();
    await expect
      .poll(() => commands)
      .toEqual([
        { kind: 'change plan', change: { decisions: { ...NOTHING_DECIDED, ...decisions } } },
      ]);
    await close();
  });

  it('a decision can be taken back', async () => {
    const { page, commands, close } = await open(plans.examplePlanBothRolls());
    await page.getByRole('button', { name: 'Decide again' }).click();
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'change plan', change: { decisions: NOTHING_DECIDED } }]);
    await close();
  });

  it('a watcher sees the plan and can write nothing into it', async () => {
    const { page, close } = await open(plans.examplePlanBuilt(), 'watcher');
    await page.locator('plan-place').waitFor();
    expect(await page.locator('main button:enabled').count()).toBe(0);
    expect(
      await page.locator('main input:not([type=file]):enabled, main select:enabled').count(),
    ).toBe(0);
    expect(await page.locator('#plan-why').textContent()).toContain('only watches');
    await close();
  });
});
