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
  // Several from version 1.1 on; before, one without a group.
  const errors = [...listOf(nodeOf(root.Errors).Error), ...listOf(root.Error)];
  const first = errors[0];
  return {
    kind: 'error',
    code: textOf(first?.['@errorCode']) || 'UNKNOWN',
    text: textOf(first?.['#text']).trim(),
  };
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
