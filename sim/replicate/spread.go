package replicate

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Spread does n pieces of work, each known by its number, with so many workers, 0 for one
// a processor. It begins none once ctx has ended, and returns the error of that.
func Spread(ctx context.Context, workers, n int, do func(i int)) error {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(workersOf(workers), n) {
		wg.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil {
					return
				}
				do(i)
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

// workersOf is how many workers are meant by a number of them.
func workersOf(workers int) int {
	if workers <= 0 {
		return runtime.GOMAXPROCS(0)
	}
	return workers
}

// counter tells how much of a whole is done, in order, from one goroutine at a time.
type counter struct {
	tell        func(done, total int) // may be nil
	total, done int
	one         sync.Mutex
}

func (c *counter) add() {
	if c.tell == nil {
		return
	}
	c.one.Lock()
	defer c.one.Unlock()
	c.done++
	c.tell(c.done, c.total)
}
