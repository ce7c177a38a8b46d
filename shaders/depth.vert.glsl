attribute vec2 flatAt;
attribute float panel;

varying float vHeight;

void main() {
  Placed placed = placeOnPanel(flatAt, panel);
  vHeight = placed.world.z;
  gl_Position = projectionMatrix * viewMatrix * vec4(placed.world, 1.0);
}
