import { XMLParser, XMLValidator } from 'fast-xml-parser';

/** What every document of streams says of the agent's buffer; the standard counts from 1. */
export interface StreamHeader {
  /** Another number than before: the agent was started anew, and counts anew. */
  instanceId: string;
  firstSequence: number;
  lastSequence: number;
  nextSequence: number;
}

/** One observation of a position, as it stands in a document. */
export interface Position {
  itemId: string;
  sequence: number;
  /** ISO 8601, by the clock of agent or machine. */
  timestamp: string;
  /** A number, or UNAVAILABLE. */
  text: string;
}

/** A data item that a position could come from, with what it belongs to. */
export interface ItemDescription {
  id: string;
  name: string;
  type: string;
  subType: string;
  units: string;
  coordinateSystem: string;
  /** SAMPLE, EVENT or CONDITION; a condition of a position has its type too. */
  category: string;
  /** How its values come; VALUE or nothing: one by one. */
  representation: string;
  /** Where the value is an average, a maximum or the like of a time: which. */
  statistic: string;
  /** The part of the axis that it is taken at (a motor, an encoder), where that is told. */
  compositionId: string;
  /** Name, native name and id of the axis it belongs to. */
  axis: readonly string[];
  /** Name of the machine. */
  device: string;
}

export type MtconnectDocument =
  | { kind: 'streams'; header: StreamHeader; positions: readonly Position[] }
  | { kind: 'devices'; items: readonly ItemDescription[] }
  | { kind: 'error'; code: string; text: string }
  | { kind: 'not understood'; why: string };

type Node = { readonly [name: string]: unknown };

const REPEATED = new Set(['DeviceStream', 'ComponentStream', 'Position', 'Device', 'DataItem']);

const parser = new XMLParser({
  ignoreAttributes: false,
  attributeNamePrefix: '@',
  removeNSPrefix: true,
  parseTagValue: false,
  parseAttributeValue: false,
  isArray: (name) => REPEATED.has(name),
  // Machine, axes, axis and the groups between are eight deep; no document nests like this.
  maxNestedTags: 64,
});

function refused(why: string): MtconnectDocument {
  return { kind: 'not understood', why };
}

/** Reads one whole document. Whatever is not one, or only part of one, gives no position. Pure. */
export function readDocument(text: string): MtconnectDocument {
  // No document of the standard has one, and what it could declare costs time and memory.
  if (/<!DOCTYPE/i.test(text)) {
    return refused(/<html/i.test(text) ? 'a web page' : 'a document with a DOCTYPE');
  }
  if (!text.trimStart().startsWith('<')) return refused('no XML');
  const valid = XMLValidator.validate(text);
  if (valid !== true) return refused(`broken XML: ${valid.err.msg} in line ${valid.err.line}`);
  let root: Node;
  try {
    root = nodeOf(parser.parse(text));
  } catch (error) {
    return refused(`broken XML: ${error instanceof Error ? error.message : String(error)}`);
  }
  if ('MTConnectStreams' in root) return streamsIn(nodeOf(root.MTConnectStreams));
  if ('MTConnectDevices' in root) return devicesIn(nodeOf(root.MTConnectDevices));
  if ('MTConnectError' in root) return errorIn(nodeOf(root.MTConnectError));
  return refused(`<${Object.keys(root).find((name) => name !== '?xml') ?? ''}>`);
}

function streamsIn(root: Node): MtconnectDocument {
  const attributes = nodeOf(root.Header);
  const header: StreamHeader = {
    instanceId: textOf(attributes['@instanceId']),
    firstSequence: countOf(attributes['@firstSequence']),
    lastSequence: countOf(attributes['@lastSequence']),
    nextSequence: countOf(attributes['@nextSequence']),
  };
  if (header.instanceId === '' || !Number.isFinite(header.nextSequence)) {
    return refused('a document of streams without instanceId or nextSequence');
  }
  const positions: Position[] = [];
  for (const device of listOf(nodeOf(root.Streams).DeviceStream)) {
    for (const component of listOf(device.ComponentStream)) {
      for (const position of listOf(nodeOf(component.Samples).Position)) {
        positions.push({
          itemId: textOf(position['@dataItemId']),
          sequence: countOf(position['@sequence']),
          timestamp: textOf(position['@timestamp']),
          text: textOf(position['#text']).trim(),
        });
      }
    }
  }
  return { kind: 'streams', header, positions };
}

function devicesIn(root: Node): MtconnectDocument {
  const items: ItemDescription[] = [];
  for (const device of listOf(nodeOf(root.Devices).Device)) {
    collect(device, [], textOf(device['@name']), items);
  }
  return { kind: 'devices', items };
}

/** Components hold components under names of their own kind; the walk takes whatever is an element. */
function collect(
  component: Node,
  axis: readonly string[],
  device: string,
  items: ItemDescription[],
): void {
  for (const item of listOf(nodeOf(component.DataItems).DataItem)) {
    items.push({
      id: textOf(item['@id']),
      name: textOf(item['@name']),
      type: textOf(item['@type']),
      subType: textOf(item['@subType']),
      units: textOf(item['@units']),
      coordinateSystem: textOf(item['@coordinateSystem']),
      category: textOf(item['@category']),
      representation: textOf(item['@representation']),
      statistic: textOf(item['@statistic']),
      compositionId: textOf(item['@compositionId']),
      axis,
      device,
    });
  }
  for (const [kind, inside] of Object.entries(nodeOf(component.Components))) {
    if (kind.startsWith('@') || kind === '#text') continue;
    for (const part of listOf(inside)) {
      const names = [part['@name'], part['@nativeName'], part['@id']].map(textOf).filter(Boolean);
      collect(part, names, device, items);
    }
  }
}

function errorIn(root: Node): MtconnectDocument {
  // In a group from version 1.1 on; before, and still allowed, one without.
  const { Header: _header, Errors: group, ...alone } = root;
  for (const [name, inside] of [...Object.entries(nodeOf(group)), ...Object.entries(alone)]) {
    if (name.startsWith('@') || name === '#text') continue;
    for (const error of listOf(inside)) {
      const words = listOf(error.ErrorMessage).map((message) => textOf(message['#text']));
      return {
        kind: 'error',
        code: textOf(error['@errorCode']) || codeOf(name),
        text: [textOf(error['#text']), ...words].join(' ').trim(),
      };
    }
  }
  return { kind: 'error', code: 'UNKNOWN', text: '' };
}

/** From version 2.6 on the kind of error is the element's name: OutOfRange is the OUT_OF_RANGE of before. */
function codeOf(name: string): string {
  if (name === 'Error' || name === 'ErrorDeprecated') return 'UNKNOWN';
  return name.replace(/([a-z])([A-Z])/g, '$1_$2').toUpperCase();
}

function nodeOf(value: unknown): Node {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? (value as Node)
    : {};
}

/** An element without attributes is a bare text to the parser. */
function elementOf(value: unknown): Node {
  return typeof value === 'string' ? { '#text': value } : nodeOf(value);
}

function listOf(value: unknown): Node[] {
  if (value === undefined) return [];
  return (Array.isArray(value) ? value : [value]).map(elementOf);
}

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

function countOf(value: unknown): number {
  const text = textOf(value);
  return /^\d{1,20}$/.test(text) ? Number(text) : Number.NaN;
}
