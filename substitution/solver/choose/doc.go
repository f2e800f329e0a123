// Package choose finds the exact front of choices, one option for each need, over cost, day and deviation.
package choose
