package sim

import "math"

// Histogram counts the cycles by the lowest (unwind) or highest (rewind)
// storage content in them, in equal bins from Min to Max. Content outside is
// in the first or last bin. A quantile read from it is right to one bin.
type Histogram struct {
	Min, Max float64 // m
	Count    []int64
}

var nan = math.NaN()

// bins is the number of bins of a histogram of storage content: its quantiles
// are right to capacity/bins.
const bins = 2000

// NewHistogram is an empty one of contents from 0 to capacity, m.
func NewHistogram(capacity float64) *Histogram {
	return &Histogram{Max: capacity, Count: make([]int64, bins)}
}

func (h *Histogram) add(x float64) {
	i := int((x - h.Min) / (h.Max - h.Min) * float64(len(h.Count)))
	h.Count[max(0, min(len(h.Count)-1, i))]++
}

func (h *Histogram) clear() {
	for i := range h.Count {
		h.Count[i] = 0
	}
}

// Merge adds the counts of o, mirrored when turned (content from margin).
func (h *Histogram) Merge(o *Histogram, turned bool) {
	for i, n := range o.Count {
		if turned {
			i = len(h.Count) - 1 - i
		}
		h.Count[i] += n
	}
}

// Width is the width of a bin in m, the error of a quantile.
func (h *Histogram) Width() float64 { return (h.Max - h.Min) / float64(len(h.Count)) }

// Total is the number of cycles counted.
func (h *Histogram) Total() int64 {
	var n int64
	for _, c := range h.Count {
		n += c
	}
	return n
}

// Quantile is the middle of the bin that holds the p-quantile, in m; NaN when
// nothing was counted.
func (h *Histogram) Quantile(p float64) float64 {
	total := h.Total()
	if total == 0 {
		return nan
	}
	need := p * float64(total)
	var sum int64
	for i, c := range h.Count {
		if sum += c; c > 0 && float64(sum) >= need {
			return h.Min + (float64(i)+0.5)*h.Width()
		}
	}
	return h.Max
}
