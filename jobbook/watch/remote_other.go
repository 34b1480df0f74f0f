//go:build !linux

package watch

// remote cannot tell here.
func remote(string) string { return "" }
