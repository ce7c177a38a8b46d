attribute vec2 flatAt;
attribute float panel;

varying vec2 vFlat;
varying vec3 vWorld;
varying vec3 vNormal;
varying vec4 vMarks;

void main() {
  Placed placed = placeOnPanel(flatAt, panel);
  vFlat = flatAt;
  vWorld = placed.world;
  vNormal = placed.normal;
  vMarks = panelTexel(panel, 2);
  gl_Position = toClip(placed, cameraPosition, 0.0);
}
