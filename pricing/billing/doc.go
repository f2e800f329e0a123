// Package billing is what is asked of a customer and what was paid: the bill of a job or of a sale over the counter, the
// credit note that corrects it, deposits and payments.
//
//   - A bill is made of what was agreed and done: the lines that stand of the agreement, without what was left out, and with
//     what was used beyond it as the customer allowed. Its lines are those that they have seen, to the penny.
//   - Bills and credit notes have each their own numbers, without a gap, however many are written at once and whatever is
//     rolled back: the database gives the number in the transaction that writes the bill. Its date is not before
//     that of the paper before it: where a clock was set back, whoever writes it says which of the two is wrong.
//   - Prices include tax. Lines are summed up by rate, and the tax of a rate is worked out once, from its sum, as EN 16931
//     has it (BR-CO-17); net and tax add up to what was agreed.
//   - A bill is never changed. A credit note gives back lines of it, or parts of them, and with its last the tax of each rate
//     has been given back to the penny.
package billing
