varying vec2 vAt;

void main() {
  vAt = uv;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}
