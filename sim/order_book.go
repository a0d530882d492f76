package sim

import (
	"math/rand/v2"

	"rollchange/model"
)

// orderBook is the list of orders that the lines of a run share: each line takes
// the first that is left and that it may make.
type orderBook struct {
	orders *model.Orders
	queue  []int32 // numbers of orders, in their sequence
	taken  []bool
	from   []int      // of each line, where in the queue it looks next; -1: there is none for it
	chance *rand.Rand // of the sequence; nil: as listed
}

func newOrderBook(o *model.Orders, lines int, from streams) *orderBook {
	b := &orderBook{orders: o, from: make([]int, lines)}
	if o.Shuffled {
		s := from.source(model.Dist{Law: model.Uniform, B: 1}, "orders.sequence")
		b.chance = rand.New(&s.pcg)
	}
	b.pass()
	return b
}

// pass appends the whole list to the queue.
func (b *orderBook) pass() {
	n := len(b.queue)
	for i := range b.orders.List {
		b.queue, b.taken = append(b.queue, int32(i)), append(b.taken, false)
	}
	if b.chance != nil {
		b.chance.Shuffle(len(b.orders.List), func(i, j int) {
			b.queue[n+i], b.queue[n+j] = b.queue[n+j], b.queue[n+i]
		})
	}
}

// take gives a line its next order, -1 when there is none left for it.
func (b *orderBook) take(line int) int {
	for passes := 0; ; passes++ {
		for i := b.from[line]; i < len(b.queue); i++ {
			b.from[line] = i + 1
			k := b.queue[i]
			if on := b.orders.List[k].Line; !b.taken[i] && (on == 0 || on == line+1) {
				b.taken[i] = true
				return int(k)
			}
		}
		if !b.orders.Repeat || passes > 0 {
			b.from[line] = -1
			return -1
		}
		b.forget()
		b.pass()
	}
}

// forget drops what every line has looked at.
func (b *orderBook) forget() {
	least := len(b.queue)
	for _, i := range b.from {
		if i >= 0 {
			least = min(least, i)
		}
	}
	b.queue = b.queue[:copy(b.queue, b.queue[least:])]
	b.taken = b.taken[:copy(b.taken, b.taken[least:])]
	for i := range b.from {
		b.from[i] = max(-1, b.from[i]-least)
	}
}
