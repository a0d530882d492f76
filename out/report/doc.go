// Package report writes one HTML page for the reader who decides: the question,
// the answer, why, the money, what would change it, how it was found.
//
//  1. content.go is what a page is made from, and which pictures there are;
//     nothing in here simulates.
//  2. first.go is the page that is read and signed, assumptions.go what it rests on most.
//  3. answer.go says the question and the answer; table.go, money.go, steps.go,
//     match.go, plan.go and inputs.go make the tables, figure.go a caption, a text and a
//     table of data for each picture, svg.go puts the picture into the page.
//  4. page.go fills page.html (html/template escapes what people typed) with
//     style.css; words.go reads every word of the page from words/.
//  5. log.go is a page of its own: what a stop log says.
//
// The page holds no script and asks for nothing: it can be mailed and printed.
package report
