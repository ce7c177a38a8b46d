attribute vec2 flatAt;
attribute float panel;
attribute float beyond;
attribute float rise;
attribute float seam;
attribute vec3 aside;

uniform float seamOpacity;

varying float vHeight;
varying float vBeyondCut;

void main() {
  Placed placed = placeOnPanel(flatAt, panel, rise, aside, 0.0);
  vHeight = placed.world.z;
  vBeyondCut = placed.beyondCut;
  bool shown = min(panelTexel(panel, 2).z, panelTexel(beyond, 2).z) * mix(1.0, seamOpacity, abs(seam)) > 0.5;
  gl_Position = shown ? toClip(placed.world) : NOWHERE;
}
