// Package books writes a shop's books as tables, and takes tables in: customers with their bikes and jobs, bills and
// payments here, suppliers, parts and stock by inventory/exchange.
//
// Into an empty shop everything is taken in, with its numbers: the labels on bins and bikes, the papers that customers
// have and the series of bills go on. A job that was open is booked in anew; its quotes, what was ordered and held for
// it stay behind. Into a shop that has begun only customers, bikes and parts can be added. All of it is taken in or
// none.
package books
