// Package measure says what a part is from what a caliper reads on it.
//
// A measurement is never a size: it is a size, give or take the tool, the wear and the way the tool is held. So each
// answer here gives every standard size that the readings allow, the sizes that get confused with them and the further
// measurement that tells them apart, and says plainly when a part is worn or made to no standard. Many measurements err
// in a known direction (inside jaws read low in a small bore, a thread measures under its name); that is said too.
//
// A size known only from memory is shown but never decides: the verdict then asks for the mark on the part.
// All functions are pure: readings in, [Result] out. An error means that the readings cannot be of such a part at all.
package measure
