import { bareVise, type SetUpScene, type ViseScene } from '../picture/index.ts';
import { toMm } from '../quantity/units.ts';
import type { BuiltStack, PlanAnswer } from './plan.ts';
import type { Hand, PlanQuestion } from './plan-question.ts';

/** Engraved sizes as lengths, only to be drawn; wear blocks outside. */
function blocksMm(stack: BuiltStack | null): number[] {
  if (stack === null) return [];
  const [first, last] = [stack.wear.slice(0, 1), stack.wear.slice(1)];
  return [...first, ...stack.blocks, ...last].map((size) => toMm(Number(size), stack.unit));
}

/** The vise as the plan sets it, with bar and stack in it. */
export function plannedVise({ picture, stack, lowRollStack }: PlanAnswer): ViseScene {
  const { barLengthMm, stackEnd } = picture;
  return {
    ...bareVise(picture.solidJaw, picture.jawWidthMm),
    jawRad: picture.jawRad,
    bar:
      barLengthMm === null || stackEnd === null
        ? null
        : {
            kind: 'sine',
            lengthMm: barLengthMm,
            rollDiameterMm: picture.rollDiameterMm,
            raisedEnd: stackEnd,
            tiltRad: picture.barInViseRad,
            lowStackMm: picture.lowRollStackMm ?? 0,
            blocksMm: blocksMm(stack),
            lowBlocksMm: blocksMm(lowRollStack),
          },
  };
}

/** The picture of a plan; without an answer the vise stands straight and empty. */
export function plannedScene(question: PlanQuestion, answer: PlanAnswer | null): SetUpScene {
  if (answer === null) return restingScene(bareVise(question.jaw.solid));
  const { picture } = answer;
  return {
    vise: plannedVise(answer),
    sweptRad: picture.barLengthMm === null ? picture.jawRad : picture.barAxisRad,
    turn: picture.turn,
    endAway: picture.endAway,
    pivotEnd: picture.pivotEnd,
    isTouched: true,
  };
}

function restingScene(vise: ViseScene): SetUpScene {
  return { vise, sweptRad: 0, turn: 'none', endAway: null, pivotEnd: 'left', isTouched: false };
}

/** Turned far enough to be told apart at a glance, radians. */
const HAND_RAD = 0.34;

/** The bare vise at one hand or the other, to choose by. */
export function handScene(hand: Hand, solidJaw: ViseScene['solidJaw']): SetUpScene {
  const isRight = hand === 'right-away';
  return {
    ...restingScene({ ...bareVise(solidJaw), jawRad: isRight ? HAND_RAD : -HAND_RAD }),
    endAway: isRight ? 'right' : 'left',
    turn: isRight ? 'counter-clockwise' : 'clockwise',
  };
}
