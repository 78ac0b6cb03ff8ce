import type { Answer, Command, LinkConfig, LinkName, Role } from '@taptrue/protocol';
import type { Bench } from '../bench/bench.ts';
import { BENCH_KINDS, SET_UP_KINDS } from '../bench/bench-kinds.ts';
import type { DemoDoor } from '../devices/demo/demo-door.ts';
import { noDemo } from '../devices/demo/no-demo.ts';
import type { DeviceController } from '../devices/device-controller.ts';
import { FIND_KINDS, type FindController } from '../devices/finding/find-controller.ts';
import { type FormatsController, SHAPE_KINDS } from '../devices/formats-controller.ts';
import { PLAN_KINDS, type PlanController } from '../plan/plan-controller.ts';
import { PROOF_KINDS } from '../records/archive/archive-command.ts';
import type { ArchiveController } from '../records/archive/archive-controller.ts';
import { proofNotRead } from '../records/archive/archive-faults.ts';
import type { ReplayController } from '../records/replay/replay-controller.ts';
import type { SigningController } from '../records/signing/signing-controller.ts';
import { refused } from '../state/answers.ts';
import type { Access } from './access/access.ts';
import { manageTablets } from './access/manage-tablets.ts';
import { type Capability, capability } from './capability.ts';
import { keepSettingAs } from './settings/keep-setting.ts';

/** What the capabilities are made of, and the two things of the bench's record that they touch together. */
export interface CapabilityParts {
  bench: Bench;
  plans: PlanController;
  shapes: FormatsController;
  archive: ArchiveController;
  signing: SigningController;
  replays: ReplayController;
  devices: DeviceController;
  find: FindController;
  /** null: real devices only. */
  demo: DemoDoor | null;
  access: Access;
  settings: Parameters<typeof keepSettingAs>[2];
  now(): number;
  /** The plan that limit, axis and target come from goes into the record of the job. */
  recordPlan(): void;
  cutTablets(): void;
}

/**
 * Everything the service can do, in the order it is closed in: first what listens on ports, so that nothing
 * measured comes in any more.
 */
export function capabilitiesOf(parts: CapabilityParts): Capability[] {
  const { bench, plans, shapes, archive, signing, devices, find, demo, access, now } = parts;
  const atBench = (command: Command) => bench.command(command, now());
  return [
    capability({
      name: 'finding',
      commands: FIND_KINDS,
      sections: ['find'],
      // A search is not part of a job, and its end is told by the connecting it leads to.
      recorded: false,
      command: (command) => find.command(command),
      close: () => find.close(),
    }),
    capability({
      name: 'devices',
      commands: ['connect', 'disconnect'],
      sections: ['links', 'ports'],
      recorded: true,
      command: (command) =>
        command.kind === 'connect'
          ? connect(parts, command.link, command.config)
          : devices.disconnect(command.link),
      close: () => devices.close(),
    }),
    capability({
      name: 'demo',
      commands: ['demo'],
      sections: ['demo'],
      recorded: true,
      command: ({ do: act }) => {
        if (!demo) return refused(noDemo());
        const answer = demo.act(act);
        if (answer.ok && act.act === 'new vise') atBench({ kind: 'new job' });
        return answer;
      },
      close: () => demo?.close(),
    }),
    capability({
      name: 'measuring',
      commands: BENCH_KINDS,
      sections: [
        'bench',
        'live',
        'setup',
        'nudges',
        'sweep',
        'history',
        'tap',
        'pivot',
        'faults',
        'card',
        'timing',
      ],
      recorded: false,
      command: (command) => {
        const answer = atBench(command);
        // The next part of the same plan: its record is to say so as well.
        if (command.kind === 'new job') parts.recordPlan();
        // The simulated vise is tightened by the same hand that says so; a real one is not.
        if (command.kind === 'set stage' && answer.ok) demo?.clamp(command.stage);
        return answer;
      },
    }),
    capability({
      name: 'set-ups',
      commands: SET_UP_KINDS,
      sections: ['setUps'],
      recorded: false,
      command: atBench,
    }),
    capability({
      name: 'plan',
      commands: PLAN_KINDS,
      sections: ['plan', 'sets', 'jobs'],
      recorded: true,
      command: (command) => plans.command(command),
    }),
    capability({
      name: 'formats',
      commands: SHAPE_KINDS,
      sections: [],
      recorded: true,
      command: (command) => shapes.command(command),
    }),
    capability({
      name: 'archive',
      commands: PROOF_KINDS,
      sections: [],
      // What is written to a kept job stands in that job's record, not in the running one's.
      recorded: false,
      command: (command) => archive.command(command).catch((error) => refused(proofNotRead(error))),
    }),
    capability({
      name: 'signing',
      commands: ['sign record'],
      sections: [],
      recorded: true,
      command: (command) => signing.sign(command),
    }),
    capability({
      name: 'replay',
      commands: [],
      sections: ['replay'],
      recorded: false,
      command: (command) => atBench(command),
      close: () => parts.replays.close(),
    }),
    capability({
      name: 'settings',
      commands: ['keep setting'],
      sections: ['settings'],
      recorded: true,
      command: (command, role) => keepSettingAs(role, command, parts.settings),
    }),
    capability({
      name: 'access',
      commands: ['new pairing code', 'revoke tablet'],
      sections: [],
      recorded: true,
      command: (command, role: Role) => manageTablets(command, role, access, parts.cutTablets),
    }),
  ];
}

/** A port that a search listens on is not fought for: the screen is told, and how to end the search. */
async function connect(
  { find, devices }: CapabilityParts,
  link: LinkName,
  config: LinkConfig,
): Promise<Answer> {
  const held = find.whyHeld(config.source);
  return held ? refused(held) : devices.connect(link, config);
}
