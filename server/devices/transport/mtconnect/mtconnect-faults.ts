import type { Fault } from '@taptrue/protocol';
import type { FoundItem } from './find-item.ts';

/** What the faults of one MTConnect agent name. */
export interface AgentNames {
  /** `indicator` or `readout`. */
  device: string;
  title: string;
}

/** As many positions of an agent as a line of a fault can name. */
const MOST_NAMED = 12;
/** Characters of what stands in the place of a number. */
const LONGEST_TEXT = 40;

export function itemFault(
  names: AgentNames,
  wanted: string,
  found: Exclude<FoundItem, { kind: 'found' }>,
): Fault {
  switch (found.kind) {
    case 'not there':
      return {
        code: 'mtconnect-item-not-found',
        what: `The agent at ${names.title} has no position called ${wanted}.`,
        got: found.positions.slice(0, MOST_NAMED).join(', '),
        remedy:
          found.positions.length > 0
            ? 'Take one of those it has, by its name or by the name of its axis.'
            : 'It has no position at all: is this the agent of the milling machine?',
      };
    case 'several machines':
      return {
        code: 'mtconnect-item-not-found',
        what: `Several machines behind the agent at ${names.title} have a position called ${wanted}.`,
        got: found.devices.slice(0, MOST_NAMED).join(', '),
        remedy: "Put the machine's name behind the address, or take the id of the data item.",
      };
    case 'no length':
      return {
        code: 'mtconnect-item-not-length',
        what: `${wanted} of the agent at ${names.title} is no position in millimetres.`,
        got: [
          [found.type, found.units].filter(Boolean).join(' in '),
          ...(found.as ? [`as ${found.as}`] : []),
        ].join(', '),
        remedy: 'Take the position of a linear axis (X or Y), told as single values.',
      };
  }
}

/** `got`: the status only; where it would send us is not told on. */
export function redirectedFault(names: AgentNames, got: string): Fault {
  return {
    code: 'mtconnect-redirects',
    what: `What answers at ${names.title} sends us to another address, and that is not followed.`,
    got,
    remedy: 'Give the address of the agent itself, as its own settings name it.',
  };
}

/** `text`: what stands where a number should; UNAVAILABLE by the standard. */
export function unavailableFault(names: AgentNames, item: string, text: string): Fault {
  return {
    code: 'mtconnect-unavailable',
    what: `The agent at ${names.title} answers, but has no position of ${item} from its machine.`,
    got: text.slice(0, LONGEST_TEXT),
    remedy: 'Check that the machine is switched on and connected to its agent.',
  };
}

export function notMtconnectFault(names: AgentNames, why: string, text: string): Fault {
  return {
    code: 'mtconnect-not-understood',
    what: `What comes from ${names.title} is no MTConnect document: ${why}.`,
    got: text,
    remedy: 'Check host and port number (5000 is the usual one of an agent).',
  };
}

export function tooLongAnswerFault(names: AgentNames, longestBytes: number): Fault {
  return {
    code: 'mtconnect-too-long',
    what: `One document from ${names.title} is longer than ${longestBytes / 1_000_000} MB; reading was broken off.`,
    got: '',
    remedy: "Put the machine's name behind the address, so that the agent tells of that one only.",
  };
}

export function agentRefusedFault(names: AgentNames, code: string, text: string): Fault {
  return {
    code: 'mtconnect-refused',
    what: `The agent at ${names.title} refuses what it is asked.`,
    got: [code, text].filter(Boolean).join(': '),
    remedy: "Check the machine's name behind the address; an agent names its machines at /probe.",
  };
}

export function agentSilentFault(names: AgentNames, silentAfterMs: number): Fault {
  return {
    code: 'mtconnect-no-answer',
    what: `The agent at ${names.title} has sent nothing for ${silentAfterMs / 1000} s.`,
    got: '',
    remedy: 'Check that the agent runs and the network is up; it is asked again by itself.',
  };
}
