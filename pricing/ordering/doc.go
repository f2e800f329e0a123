// Package ordering decides what to order from whom, and follows it until it is here.
//
// What approved jobs lack and what the shelf has too few of becomes one problem for package orderplan: a [List] of orders at
// the least landed cost that keeps the promised days. A list rests on all that was read for it; [Place] reads that again
// under locks and places nothing where any of it has changed. [LatePromises] tells what will not be here in time as things
// stand, and what was never ordered; [List.WhatIf] what another rule would cost.
//
// It knows jobs by their numbers only: bikes, quotes and approvals are package pricing's.
package ordering
