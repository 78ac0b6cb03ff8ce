import { Command, SECTION_NAMES } from '@taptrue/protocol';
import { type CapabilityParts, capabilitiesOf } from '@taptrue/server/service/capabilities.ts';
import { CapabilityList, capability } from '@taptrue/server/service/capability.ts';
import { describe, expect, it } from 'vitest';

/** Only the lists are looked at here; nothing of a capability is asked. */
const list = () => new CapabilityList(capabilitiesOf({} as CapabilityParts));

const taking = (name: string, kinds: readonly ('park' | 'demo')[]) =>
  capability({
    name,
    commands: kinds,
    sections: [],
    recorded: false,
    command: () => ({ ok: true, note: name }),
  });

describe('what the service can do', () => {
  it('every command of the schema has an owner', () => {
    const owners = list();
    for (const { properties } of Command.anyOf) {
      expect(owners.ownerOf(properties.kind.const).commands).toContain(properties.kind.const);
    }
  });

  it('every section of the state has one owner', () => {
    const owned = list().all.flatMap(({ sections }) => sections);
    expect([...owned].sort()).toEqual([...SECTION_NAMES].sort());
  });

  it('two that take one command are refused', () => {
    expect(() => new CapabilityList([taking('one', ['park']), taking('other', ['park'])])).toThrow(
      '"park" is taken by one and by other.',
    );
  });

  it('a new one is a line in the list', async () => {
    const owners = new CapabilityList([taking('one', ['park']), taking('new', ['demo'])]);
    const asked = { kind: 'demo', do: { act: 'new vise' } } as unknown as Command;
    expect(await owners.ownerOf('demo').command(asked, 'bench screen')).toEqual({
      ok: true,
      note: 'new',
    });
  });

  it('they are closed in order, each once', async () => {
    const closed: string[] = [];
    const closing = (name: string) => ({
      ...taking(name, []),
      close: () => void closed.push(name),
    });
    await new CapabilityList([closing('a'), closing('b')]).close();
    expect(closed).toEqual(['a', 'b']);
  });
});
