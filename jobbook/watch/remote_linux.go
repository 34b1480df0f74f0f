package watch

import "syscall"

// remote names the kind of a disk that other machines change without this one hearing of it, "" for any other. The
// numbers are those of statfs(2).
func remote(dir string) string {
	var s syscall.Statfs_t
	if syscall.Statfs(dir, &s) != nil {
		return ""
	}
	switch uint32(s.Type) {
	case 0x6969:
		return "a network disk (NFS)"
	case 0xff534d42, 0xfe534d42, 0x517b:
		return "a network disk (SMB)"
	case 0x01021997:
		return "a disk of the host system (9P)"
	case 0x65735546:
		return "a mounted service (FUSE)"
	}
	return ""
}
