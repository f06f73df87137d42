/** The page that planform explore serves: the same, with values that can be moved. */
import "./page.js";
