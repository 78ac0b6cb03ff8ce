import type { LineBytesSource, LinkConfig, LinkSource } from '@taptrue/protocol';
import { Refusal } from './command.ts';

/** Sources that need no line shape: registers and agents have a form of their own. */
export type OwnFormSource = Exclude<LinkSource, LineBytesSource>;

/** What was said beside the source; undefined: not said. */
export interface SaidOfSource {
  unit: LinkConfig['unit'];
  shape: string | undefined;
  channel: string | undefined;
  second: string | undefined;
}

/**
 * The config of a link to registers or an agent. What belongs to lines only is refused, with the name of the
 * option that said it (`--` or `--readout-` before it).
 */
export function ownFormConfig(
  source: OwnFormSource,
  { unit, shape, channel, second }: SaidOfSource,
  prefix: string,
): LinkConfig {
  const isAgent = source.kind === 'mtconnect';
  if (shape !== undefined) {
    throw new Refusal(
      `${prefix}shape is for devices that send lines; ${isAgent ? 'an agent' : 'Modbus'} needs none.`,
    );
  }
  if (channel !== undefined) {
    throw new Refusal(
      `${prefix}channel is for devices that send lines; ${isAgent ? 'the axis stands behind the address' : 'the register says which axis'}.`,
    );
  }
  if (isAgent && unit === 'in') {
    throw new Refusal(`An agent gives millimetres by its standard; leave out ${prefix}unit.`);
  }
  if (!isAgent && unit === 'as sent') {
    throw new Refusal(`Registers carry no unit: give ${prefix}unit mm or ${prefix}unit in.`);
  }
  if (!isAgent && second !== undefined && !/^\d{1,5}$/.test(second)) {
    throw new Refusal(`${prefix}second is "${second}"; it takes the register of the second axis.`);
  }
  return {
    source,
    shape: '',
    unit,
    channel: null,
    ...(second === undefined ? {} : { secondChannel: second }),
  };
}
