package photo

import "sync"

// room is how many pixels of photographs may be in memory at once, of the whole program: as many as one photograph may have. However
// many goroutines make copies, they take no more memory than one with the largest photograph would.
type room struct {
	lock  sync.Mutex
	freed sync.Cond
	left  int64
}

var memory = newRoom(MostPixels)

func newRoom(pixels int64) *room {
	r := &room{left: pixels}
	r.freed.L = &r.lock
	return r
}

// take waits until there is room for so many pixels, which are no more than all. They are free again when free is called.
func (r *room) take(pixels int64) (free func()) {
	r.lock.Lock()
	defer r.lock.Unlock()
	for r.left < pixels {
		r.freed.Wait()
	}
	r.left -= pixels
	return func() {
		r.lock.Lock()
		defer r.lock.Unlock()
		r.left += pixels
		r.freed.Broadcast()
	}
}
