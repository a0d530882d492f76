package invented

import "math"

// Contrast is that of two colours, red, green and blue from 0 to 1 each: from 1, the same,
// to 21, black on white. Source: Web Content Accessibility Guidelines 2.1, contrast ratio
// and relative luminance.
func Contrast(a, b [3]float64) float64 {
	light := func(c [3]float64) float64 {
		for i, x := range c {
			if c[i] = x / 12.92; x > 0.04045 {
				c[i] = math.Pow((x+0.055)/1.055, 2.4)
			}
		}
		return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	}
	x, y := light(a), light(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}
