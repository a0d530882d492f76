// Package plan answers when the orders of a list are made: it runs the list in every
// replication of every alternative, and tells of each order when it begins and ends,
// how likely it is to be late, where its hours go and what it takes, and of the whole
// list when it is done. Alternatives meet the same chance, so that their differences
// are sharp.
package plan
