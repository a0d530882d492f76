// Package metric is the one table of what is measured of a line.
//
//  1. name.go gives each metric its name, once; everything else says the constant.
//  2. table.go has a row for each metric, or for each family of metrics that is
//     measured for every hold or every cause: its unit, how the figures of the
//     replications make an estimate, what it tells of, how it is shown, and its
//     place in the tables of one alternative and of several. The rows stand in the
//     order in which people read them.
//  3. sim measures them and out/words calls them; tests hold that both know the
//     names of this table and no others.
package metric
