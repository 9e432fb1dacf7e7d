//go:build unix

package runner

import (
	"os"
	"syscall"
)

// apart gives a program a session of its own: what it starts can be stopped
// with it, and it can't write on, or ask at, the terminal of the screen.
func apart() *syscall.SysProcAttr { return &syscall.SysProcAttr{Setsid: true} }

// ask asks a program and all that it started to end. Errors say that they have
// ended already.
func ask(p *os.Process) { _ = syscall.Kill(-p.Pid, syscall.SIGTERM) }

// kill ends a program and all that it started. What left its session by itself
// is on its own.
func kill(p *os.Process) { _ = syscall.Kill(-p.Pid, syscall.SIGKILL) }
