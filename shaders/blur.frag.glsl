uniform sampler2D source;
uniform vec2 stride;

varying vec2 vAt;

void main() {
  vec4 sum = texture2D(source, vAt) * 0.1633;
  float weight[6] = float[6](0.1531, 0.1225, 0.0815, 0.0451, 0.0207, 0.0079);
  for (int i = 0; i < 6; i++) {
    vec2 shift = stride * (float(i) + 1.0);
    sum += (texture2D(source, vAt + shift) + texture2D(source, vAt - shift)) * weight[i] * 0.9716;
  }
  gl_FragColor = sum;
}
