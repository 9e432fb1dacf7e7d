//go:build !unix

package runner

import (
	"os"
	"syscall"
)

func apart() *syscall.SysProcAttr { return nil }

// ask ends a program at once: there is no way to ask here.
func ask(p *os.Process) { kill(p) }

// kill ends a program, but not what it started. An error says that it has
// ended already.
func kill(p *os.Process) { _ = p.Kill() }
