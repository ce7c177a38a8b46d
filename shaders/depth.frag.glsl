// Seen from under the table: the nearer the paper is to it, the darker its shadow.
varying float vHeight;
varying float vBeyondCut;

void main() {
  if (vBeyondCut > 0.0) discard;
  float near = exp(-max(0.0, vHeight) * 7.0);
  gl_FragColor = vec4(near, near, near, 1.0);
}
