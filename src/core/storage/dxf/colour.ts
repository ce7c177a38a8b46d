/**
 * A screen colour for a drafting colour number (1 to 255), only for the samples of the mapping step. The first
 * seven are exact by convention; the rest follow the usual wheel: hue in steps of 15 degrees, five levels, each
 * full and half saturated; 250 to 255 are greys. From memory.
 */
export function colourOfNumber(number: number): string {
  const plain = [
    '#000000',
    '#ff0000',
    '#ffff00',
    '#00ff00',
    '#00ffff',
    '#0000ff',
    '#ff00ff',
    '#000000',
    '#808080',
  ];
  if (number < 9) return plain[number] ?? '#000000';
  if (number === 9) return '#c0c0c0';
  if (number >= 250) return grey(51 + (number - 250) * 41);
  const hue = (Math.floor(number / 10) - 1) * 15;
  const level = [1, 0.65, 0.5, 0.3, 0.15][Math.floor((number % 10) / 2)]!;
  const pale = number % 2 === 1 ? 0.5 : 0;
  const channel = (offset: number) => {
    const distance = Math.abs(((hue - offset + 540) % 360) - 180);
    const full = Math.min(1, Math.max(0, 2 - distance / 60));
    return Math.round(255 * level * (full + (1 - full) * pale));
  };
  return hex(channel(0), channel(120), channel(240));
}

function grey(level: number): string {
  const value = Math.min(255, level);
  return hex(value, value, value);
}

function hex(...channels: number[]): string {
  return `#${channels.map((channel) => channel.toString(16).padStart(2, '0')).join('')}`;
}
