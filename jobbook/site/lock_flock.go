//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package site

import (
	"errors"
	"os"
	"syscall"
)

// lock takes the folder for this run, or says that another has it. The system lets go of it when a run ends, however it
// ends, and nothing is left on disk. On a disk that has no locks there is none.
func lock(root *os.Root, dir string) (unlock func(), err error) {
	f, err := root.Open(".")
	if err != nil {
		return nil, err
	}
	for {
		err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		if !errors.Is(err, syscall.EINTR) {
			break
		}
	}
	if errors.Is(err, syscall.EWOULDBLOCK) {
		f.Close()
		return nil, &BusyError{dir}
	}
	return func() { f.Close() }, nil
}
