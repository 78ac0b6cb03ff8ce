/** The one picture: the vise from above, for every screen and for paper. Pure; it knows no colours. */
export * from './draw-swept.ts';
export * from './draw-vise.ts';
export * from './glyphs.ts';
export * from './line-choice.ts';
export * from './marks.ts';
export * from './set-up.ts';
export * from './set-up-words.ts';
export * from './svg-text.ts';
export * from './swept.ts';
export * from './vise-parts.ts';
export * from './vise-scene.ts';
