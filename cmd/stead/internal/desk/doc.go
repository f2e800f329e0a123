// Package desk stands between the subject and the screens: for each screen one struct with all that it tells, in the
// words of the trade, and one loader that fills it. The commands print these structs and give them as JSON; a page sets
// the same struct in a template. What a field is called in JSON is said here and nowhere else.
//
// A loader asks inventory and pricing and decides nothing that they do not; it knows no command, no flag and no width of
// a terminal. What is to be done next it says as a [Step], which a terminal turns into a command and a page into a link.
package desk
