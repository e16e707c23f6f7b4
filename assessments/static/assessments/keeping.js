// The keeper of what someone enters lives with what all pages share.
export { Keeper } from "../shared/js/keeping.js";
