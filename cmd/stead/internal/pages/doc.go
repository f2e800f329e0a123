// Package pages serves the workshop's pages: for the bench and the counter, behind a sign-in, and for the customer, behind
// a link to one quote.
//
// A page is one small file and one template. The file has a struct with all that the page tells, a function that fills it
// from the desk, and a function for each button; it decides, adds up and words nothing that a command does not take from
// the same place. The template (templates/NAME.html) defines "content", and "thumb" where the page has a main act. The
// page stands in the table of [Server.pages] with who may see it; testdata/access.txt has a row for it, and by that row it
// is crawled, opened in a browser, measured and read for names, contrast and width like every other.
//
// Whatever changes something is a plain form that posts to its own page. The hidden fields "act", "key" and "state" say
// which button it is, the request under which it is done once (inventory.Once), and the state of the subject on which the
// form was made. Where that has changed the answer says what happened in between and keeps what was typed; where
// something is wrong with a field the answer says so beside it. All of it works without the script, which only makes it
// quicker.
package pages
