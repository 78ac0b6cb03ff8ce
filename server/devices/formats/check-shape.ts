import { checkerOf, type Fault, LineShape } from '@taptrue/protocol';
import { checkFields } from './check-fields.ts';
import { checkFraming } from './check-framing.ts';
import { escapeControls } from './escape-controls.ts';
import type { ShapeFinding } from './shape-finding.ts';
import { trySample } from './try-sample.ts';

export type ShapeCheck = { ok: true; shape: LineShape } | { ok: false; faults: Fault[] };

const lineShape = checkerOf(LineShape);

/**
 * Checks a shape from the table or from a file: first its form, then whether its fields belong together,
 * then its own samples as a self-test. Every fault names the field that is wrong.
 */
export function checkShape(candidate: unknown): ShapeCheck {
  const form = lineShape.check(candidate);
  if (!form.ok) {
    return {
      ok: false,
      faults: [shapeFault(`The line shape has a wrong field: ${form.why}.`, '')],
    };
  }
  const shape = form.value;
  const findings = findingsOf(shape);
  if (findings.length === 0) return { ok: true, shape };
  return { ok: false, faults: findings.map((finding) => findingFault(shape.name, finding)) };
}

/** What is wrong with a shape of the right form, self-test included; empty: it can be used. */
export function findingsOf(shape: LineShape): ShapeFinding[] {
  const findings = [...checkFields(shape), ...checkFraming(shape)];
  if (findings.length > 0) return findings;
  for (const [index, sample] of shape.samples.entries()) {
    const why = trySample(sample, shape);
    if (why !== null) {
      findings.push({ place: `samples[${index}]`, why, got: escapeControls(sample.frame) });
    }
  }
  return findings;
}

function findingFault(name: string, { place, why, got }: ShapeFinding): Fault {
  return place.startsWith('samples')
    ? shapeFault(`${place} of the line shape "${name}" fails: ${why}.`, got)
    : shapeFault(`The line shape "${name}" cannot be used: ${why}.`, got);
}

function shapeFault(what: string, got: string): Fault {
  return {
    code: 'shape-not-usable',
    what,
    got,
    remedy: 'Correct the named field, or choose another line shape.',
  };
}
