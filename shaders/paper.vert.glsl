attribute vec2 flatAt;
attribute float panel;
attribute float beyond; // of a seam between two leaves the panel across; else the panel itself
attribute float rise;
attribute float seam; // 1 between two leaves

uniform float seamOpacity;

varying vec2 vFlat;
varying vec3 vWorld;
varying vec3 vNormal;
varying vec4 vMarks;
varying float vSeam;
varying float vBeyondCut;

void main() {
  Placed placed = placeOnPanel(flatAt, panel, rise, 0.0);
  vFlat = flatAt;
  vWorld = placed.world;
  vNormal = placed.normal;
  vMarks = panelTexel(panel, 2);
  vSeam = seam;
  vBeyondCut = placed.beyondCut;
  float opacity = min(vMarks.z, panelTexel(beyond, 2).z) * mix(1.0, seamOpacity, seam);
  vMarks.z = opacity;
#ifdef GLASS
  bool shown = opacity < 0.999 && opacity > 0.004;
#else
  bool shown = opacity >= 0.999;
#endif
  gl_Position = shown ? toClip(placed.world) : NOWHERE;
}
