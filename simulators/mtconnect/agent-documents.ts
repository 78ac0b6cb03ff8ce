import type { AgentBuffer, Observation } from './agent-buffer.ts';

/** One linear axis of the simulated machine, with its actual and its commanded position. */
export interface AgentAxis {
  /** `X`. */
  name: string;
  actualId: string;
  commandedId: string;
}

/** What a simulated agent is, for every document it makes. */
export interface AgentDescription {
  instanceId: number;
  /** ISO 8601: what it is was set down then. */
  describedAt: string;
  device: string;
  uuid: string;
  axes: readonly AgentAxis[];
  /** Of the machine; values are in millimetres all the same. */
  nativeUnits: 'MILLIMETER' | 'INCH';
}

/** Of the published schemas that the documents are written by. */
const VERSION = '2.4';
const SENDER = 'taptrue-simulated';

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}

function documentOf(kind: 'Streams' | 'Devices' | 'Error', header: string, inside: string): string {
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<MTConnect${kind} xmlns="urn:mtconnect.org:MTConnect${kind}:${VERSION}">`,
    `<Header ${header}/>`,
    inside,
    `</MTConnect${kind}>`,
    '',
  ].join('\n');
}

/** What stands in the header of an error too: by the schema that one tells no deviceModelChangeTime. */
function headerOf({ instanceId }: AgentDescription, buffer: AgentBuffer, now: string): string {
  return `creationTime="${now}" sender="${SENDER}" instanceId="${instanceId}" version="${VERSION}" bufferSize="${buffer.bufferSize}"`;
}

function fullHeaderOf(agent: AgentDescription, buffer: AgentBuffer, now: string): string {
  return `${headerOf(agent, buffer, now)} deviceModelChangeTime="${agent.describedAt}"`;
}

/** How things stand, or what came: the positions in it, under their axes. `next`: where to go on from. */
export function streamsDocument(
  agent: AgentDescription,
  buffer: AgentBuffer,
  observations: readonly Observation[],
  next: number,
  now: string,
): string {
  const components = agent.axes
    .map((axis) => {
      const positions = observations
        .filter(({ itemId }) => itemId === axis.actualId || itemId === axis.commandedId)
        .map(
          ({ itemId, sequence, timestamp, text }) =>
            `<Position dataItemId="${escaped(itemId)}" name="${axis.name}${itemId === axis.actualId ? 'act' : 'com'}" subType="${itemId === axis.actualId ? 'ACTUAL' : 'COMMANDED'}" sequence="${sequence}" timestamp="${timestamp}">${escaped(text)}</Position>`,
        );
      if (positions.length === 0) return '';
      return `<ComponentStream component="Linear" name="${axis.name}" componentId="axis-${axis.name}"><Samples>${positions.join('')}</Samples></ComponentStream>`;
    })
    .join('');
  const { firstSequence, lastSequence } = buffer;
  const header = `${fullHeaderOf(agent, buffer, now)} firstSequence="${firstSequence}" lastSequence="${lastSequence}" nextSequence="${next}"`;
  return documentOf(
    'Streams',
    header,
    `<Streams><DeviceStream name="${escaped(agent.device)}" uuid="${escaped(agent.uuid)}">${components}</DeviceStream></Streams>`,
  );
}

/** What the machine has. */
export function devicesDocument(agent: AgentDescription, buffer: AgentBuffer, now: string): string {
  const item = (id: string, name: string, subType: string) =>
    `<DataItem id="${escaped(id)}" name="${name}" category="SAMPLE" type="POSITION" subType="${subType}" units="MILLIMETER" nativeUnits="${agent.nativeUnits}" coordinateSystem="MACHINE"/>`;
  const linear = agent.axes
    .map(
      ({ name, actualId, commandedId }) =>
        // The commanded one first: an agent may list them in any order.
        `<Linear id="axis-${name}" name="${name}"><DataItems>${item(commandedId, `${name}com`, 'COMMANDED')}${item(actualId, `${name}act`, 'ACTUAL')}</DataItems></Linear>`,
    )
    .join('');
  return documentOf(
    'Devices',
    `${fullHeaderOf(agent, buffer, now)} assetBufferSize="1024" assetCount="0"`,
    `<Devices><Device id="machine" name="${escaped(agent.device)}" uuid="${escaped(agent.uuid)}" mtconnectVersion="${VERSION}"><Components><Axes id="axes"><Components>${linear}</Components></Axes></Components></Device></Devices>`,
  );
}

export function errorDocument(
  agent: AgentDescription,
  buffer: AgentBuffer,
  code: string,
  text: string,
  now: string,
): string {
  return documentOf(
    'Error',
    headerOf(agent, buffer, now),
    `<Errors><Error errorCode="${code}">${escaped(text)}</Error></Errors>`,
  );
}
