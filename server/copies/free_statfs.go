//go:build linux || darwin

package copies

import "syscall"

// free gives the bytes that may still be written to the disk of a folder.
func free(folder string) (bytes uint64, known bool) {
	var of syscall.Statfs_t
	if syscall.Statfs(folder, &of) != nil {
		return 0, false
	}
	return of.Bavail * uint64(of.Bsize), true
}
