// Package pricing is what a job costs and what was agreed: the bike that was booked in, what was found on it, the
// options put to the customer, the quote, the approval, and the order lists that follow from it.
//
// How prices are made, so that a figure on paper can be worked out again by hand:
//
//   - Every price that a customer sees includes tax. A recommended retail price is taken as it stands. Where there is
//     none, a part costs the supplier's price a piece, plus the shop's mark-up, plus tax. Labour is listed before tax
//     and shown with it. Carriage is passed on at cost, plus tax.
//   - Each line is rounded to the penny, a half penny upwards. The total is the sum of the lines as printed.
//   - The tax contained in the total is worked out once, from the total: total ÷ (1 + rate), rounded in the same way, is
//     the price before tax, and the rest is tax. The rate is the one in force on the day of the quote, which names it.
//   - Inside the planners money is whole pence; elsewhere it is decimal. It is never a float.
//
// A quote is written once and never changed. What changes is a new version; what was approved stays as it was shown,
// with who approved each difference, when, and the exact words.
package pricing
