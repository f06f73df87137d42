/** What the pages use of three.js, and nothing else of it; built once, as the global `three`. */
export { WebGLRenderer } from "three";
export { OrbitControls } from "three/addons/controls/OrbitControls.js";
