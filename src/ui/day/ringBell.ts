/** Three short strokes, s: long enough to be heard over a mixer, short enough not to annoy. Own choice. */
const STROKES_S = [0, 0.35, 0.7];
const STROKE_S = 0.22;
/** Two tones, Hz, well inside of what a small loudspeaker gives. Own choice. */
const TONES_HZ = [880, 660, 880];
const LOUDNESS = 0.25;

let context: AudioContext | null = null;

/**
 * Rings. Browsers stay silent until the page has been touched once after it was opened: until then it is not heard.
 * Returns whether a sound can be made now.
 */
export function ringBell(): boolean {
  if (typeof AudioContext === 'undefined') return false;
  context ??= new AudioContext();
  void context.resume();
  const isAwake = context.state === 'running';
  const begin = context.currentTime + 0.02;
  for (const [i, at] of STROKES_S.entries()) {
    const tone = context.createOscillator();
    const volume = context.createGain();
    tone.frequency.value = TONES_HZ[i];
    volume.gain.setValueAtTime(LOUDNESS, begin + at);
    volume.gain.exponentialRampToValueAtTime(0.001, begin + at + STROKE_S);
    tone.connect(volume).connect(context.destination);
    tone.start(begin + at);
    tone.stop(begin + at + STROKE_S);
  }
  return isAwake;
}

/**
 * To be called while the user touches the page: from then on it can ring, also when nobody touches it. Makes no sound.
 */
export function wakeBell(): void {
  if (typeof AudioContext === 'undefined') return;
  context ??= new AudioContext();
  void context.resume();
}

/** False while a bell would not be heard, since the page was not touched yet. */
export function isBellAwake(): boolean {
  return context?.state === 'running';
}
