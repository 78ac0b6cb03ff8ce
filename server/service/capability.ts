import type { Answer, Command, Role, SectionName } from '@taptrue/protocol';

export type CommandKind = Command['kind'];
export type CommandOf<Kind extends CommandKind> = Extract<Command, { kind: Kind }>;

/** One thing the service can do. A new one is a folder, and one line in the list the service starts. */
export interface Capability {
  readonly name: string;
  /** Commands it takes; no other capability takes the same. */
  readonly commands: readonly CommandKind[];
  /** Sections of the state that it owns; no other capability does. */
  readonly sections: readonly SectionName[];
  /** Whether the service keeps command and answer in the record; false where the capability does so itself. */
  readonly recorded: boolean;
  command(command: Command, role: Role): Answer | Promise<Answer>;
  /** Lets go of what it holds; the service waits for it. */
  close?(): void | Promise<void>;
}

/** A capability whose commands are known by kind: what it is asked is one of those it takes. */
export function capability<const Kinds extends readonly CommandKind[]>(described: {
  name: string;
  commands: Kinds;
  sections: readonly SectionName[];
  recorded: boolean;
  command(command: CommandOf<Kinds[number]>, role: Role): Answer | Promise<Answer>;
  close?(): void | Promise<void>;
}): Capability {
  const { command, ...rest } = described;
  return {
    ...rest,
    command: (asked, role) => command(asked as CommandOf<Kinds[number]>, role),
  };
}

/** Finds the one capability that takes a command. */
export class CapabilityList {
  readonly all: readonly Capability[];
  readonly #byCommand = new Map<CommandKind, Capability>();

  /** @throws where two take one command, or own one section: each has one owner. */
  constructor(all: readonly Capability[]) {
    this.all = all;
    const owners = new Map<SectionName, string>();
    for (const one of all) {
      for (const kind of one.commands) {
        const other = this.#byCommand.get(kind);
        if (other) throw new Error(`"${kind}" is taken by ${other.name} and by ${one.name}.`);
        this.#byCommand.set(kind, one);
      }
      for (const section of one.sections) {
        const other = owners.get(section);
        if (other) throw new Error(`Section ${section} is owned by ${other} and by ${one.name}.`);
        owners.set(section, one.name);
      }
    }
  }

  /** @throws where nobody takes it: a command of the schema without an owner is a mistake of ours. */
  ownerOf(kind: CommandKind): Capability {
    const owner = this.#byCommand.get(kind);
    if (!owner) throw new Error(`No capability takes the command "${kind}".`);
    return owner;
  }

  /** One after the other, in the order of the list, whatever one of them says. */
  async close(): Promise<void> {
    for (const { close } of this.all) await close?.();
  }
}
