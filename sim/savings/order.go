package savings

import "slices"

// few is how many values are sorted rather than parted further.
const few = 24

// place puts those values of x where a sort would put them that stand at the places
// of at, in increasing order, and parts x about each: what lies before is no larger,
// what lies after no smaller. Two or three quantiles of many draws need no sort
// of all (Hoare, Comm. ACM 4 (1961) 321, algorithm 65, for several places at once).
// Without NaN.
func place(x []float64, at []int) {
	parted(x, 0, at, 0)
}

// parted is place of values that begin at an offset of the whole, so often parted before.
func parted(x []float64, offset int, at []int, depth int) {
	for len(at) > 0 {
		if len(x) <= few || depth > 40 { // parted badly again and again: sorting takes no longer than it always does
			slices.Sort(x)
			return
		}
		depth++
		pivot := ninther(x)
		less, more := 0, len(x) // x[:less] < pivot, x[more:] > pivot, as far as i has come
		for i := 0; i < more; {
			switch v := x[i]; {
			case v < pivot:
				x[i], x[less] = x[less], v
				less++
				i++
			case v > pivot:
				more--
				x[i], x[more] = x[more], v
			default:
				i++
			}
		}
		low, high := 0, len(at)
		for low < len(at) && at[low] < offset+less {
			low++
		}
		for high > low && at[high-1] >= offset+more {
			high--
		}
		parted(x[:less], offset, at[:low], depth)
		x, offset, at = x[more:], offset+more, at[high:]
	}
}

// ninther is the median of three medians of three, spread over x.
func ninther(x []float64) float64 {
	n, m := len(x)-1, len(x)/2
	d := n / 8
	return middle(middle(x[0], x[d], x[2*d]), middle(x[m-d], x[m], x[m+d]), middle(x[n-2*d], x[n-d], x[n]))
}

func middle(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }
