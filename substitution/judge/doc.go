// Package judge answers questions of fit in bulk, without a workshop's database: a question a line of JSON, an answer a
// line.
//
// Three kinds of question are asked:
//
//   - "pair": do a and b go together on one bike? Asked at every pair of places where such parts meet; the kindest counts.
//     Where the question names a place, or the bike one end alone, it is asked there.
//
//   - "instead": does b go on in the stead of a? What a was vouches for what it sat on; the neighbours are those of the
//     bike, as far as it names any. Asked wherever a may have sat; the worst counts. Where the bike names one end alone, and
//     a may have sat there, that nothing is known of the other end does not count.
//
//   - "place": does b go on the bike at a place, beside what is fitted there?
//
// An answer is one of six: "fits"; "fits-with-difference", and the differences say what is another or needed beside it;
// "no"; "cant-tell", and what to measure says with which tool; "no-rule", where no rule joins the two and nothing is
// known; "refused", where the question cannot be meant. A question that cannot be read is refused and the next one asked.
package judge
