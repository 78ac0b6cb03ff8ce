/** Repeatable random numbers in [0, 1) from a 32-bit seed (mulberry32, public domain), for tests only. */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** `length` bytes of which most are what a device could send, so that near misses are common. */
export function likelyBytes(length: number, random: () => number): Uint8Array {
  const likely = '+-0123456789.,= XYZAIN\r\n\x02mMC';
  return Uint8Array.from({ length }, () =>
    random() < 0.7
      ? likely.charCodeAt(Math.floor(random() * likely.length))
      : Math.floor(random() * 256),
  );
}
