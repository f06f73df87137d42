/** The page that opens from disk: what it shows stands in it as JSON. */
import { WebGLRenderer } from "three";

document.documentElement.dataset.ready = WebGLRenderer ? "yes" : "no";
