// Package picture draws. It alone knows the plot library.
//
//  1. Results, a log, a line or what sim/whatif found come in.
//  2. A function for each picture returns a *Picture: nil where there is nothing to
//     draw. theme.go holds fonts, colours and ticks, place.go what finds room for
//     words, hatch.go the fills, contour.go the geometry of level lines.
//  3. A Picture is written as SVG, PNG or PDF (formats.go), at a size (size.go). It
//     holds no clock: the same result gives the same bytes.
package picture
