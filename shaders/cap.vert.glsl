// Where the cutting plane meets a leaf: a stroke of even width on screen, one side of it in each side's colour.
attribute vec2 corner; // x: 0 start, 1 end; y: -1 the down side, 1 the up side
attribute vec4 ends; // flat x, y of start and end
attribute float panel;
attribute float rise;
attribute vec3 asideStart; // how far both ends are bent aside
attribute vec3 asideEnd;

uniform float pixelsPerUnit;
uniform float capWidth; // half of it, pixels

varying float vSide;

void main() {
  Placed here = placeOnPanel(mix(ends.xy, ends.zw, corner.x), panel, rise, mix(asideStart, asideEnd, corner.x), 0.0);
  vec3 from = placeOnPanel(ends.xy, panel, rise, asideStart, 0.0).world;
  vec3 to = placeOnPanel(ends.zw, panel, rise, asideEnd, 0.0).world;
  vec3 eye = cameraPosition - here.world;
  float pixel = length(eye) / pixelsPerUnit;
  vec3 along = to - from;
  vec3 across = cross(along, eye);
  across = length(across) > 0.0 ? normalize(across) : vec3(0.0);
  if (dot(across, here.normal) < 0.0) across = -across;
  vSide = corner.y * capWidth;
  vec3 world = here.world + across * corner.y * capWidth * pixel + normalize(eye) * 4.0 * lineLift;
  gl_Position = panelTexel(panel, 2).z > 0.05 ? toClip(world) : NOWHERE;
}
