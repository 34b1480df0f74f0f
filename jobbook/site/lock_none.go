//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package site

import "os"

// lock does nothing where folders cannot be locked.
func lock(*os.Root, string) (unlock func(), err error) { return func() {}, nil }
