package gps

import (
	"errors"
	"fmt"
	"net"
	"strings"
	"testing"
	"time"
)

// keepSending writes the sentences of every tenth of a second until the test, or the
// stop that it returns, ends it.
func keepSending(t *testing.T, write func(text string) error) (stop func()) {
	quit, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		ticker := time.NewTicker(100 * time.Millisecond)
		defer ticker.Stop()
		for {
			select {
			case <-quit:
				return
			case at := <-ticker.C:
				if write(second(at)) != nil {
					return
				}
			}
		}
	}()
	ended := false
	stop = func() {
		if !ended {
			ended = true
			close(quit)
			<-done
		}
	}
	t.Cleanup(stop)
	return stop
}

func open(t *testing.T, url string) *Receiver {
	t.Helper()
	r, err := Open(t.Context(), url, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		begun := time.Now()
		r.Close()
		if took := time.Since(begun); took > 2*time.Second {
			t.Errorf("closing %s took %v", url, took)
		}
	})
	return r
}

func TestTCP(t *testing.T) {
	t.Parallel()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { listener.Close() }()
	r := open(t, "tcp://"+listener.Addr().String())
	for range 2 { // the second time after a loss
		conn, err := listener.Accept()
		if err != nil {
			t.Fatal(err)
		}
		stop := keepSending(t, func(text string) error { _, err := conn.Write([]byte(text)); return err })
		await(t, r, 3*time.Second, "fix", is(Fixed))
		stop()
		conn.Close()
		lost := await(t, r, 3*time.Second, "loss", is(Lost))
		if !lost.Fix.Valid() || !strings.Contains(lost.Problem, "closed by the sender") {
			t.Errorf("lost with fix %+v, problem %q", lost.Fix, lost.Problem)
		}
	}
}

func TestTCPWithoutSender(t *testing.T) {
	t.Parallel()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	address := listener.Addr().String()
	listener.Close()
	for _, scheme := range []string{"tcp", "gpsd"} {
		_, err = Open(t.Context(), scheme+"://"+address, Options{})
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.What, "open "+scheme+"://"+address+": ") || e.Hint == "" || errors.Is(err, ErrURL) {
			t.Errorf("%s: error %v, want one that names the address, with a hint", scheme, err)
		}
	}
}

// Phones send datagrams of several sentences or of one, often without a line
// end.
func TestUDP(t *testing.T) {
	t.Parallel()
	probe, err := net.ListenPacket("udp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	port := probe.LocalAddr().(*net.UDPAddr).Port
	taken := fmt.Sprintf("udp://127.0.0.1:%d", port)
	if _, err := Open(t.Context(), taken, Options{}); err == nil || !strings.Contains(err.Error(), taken) {
		t.Errorf("a port that is taken: error %v, want one that names it", err)
	}
	probe.Close()

	// Another program may take the port in between: then the next one will do.
	for range 20 {
		first, err := Open(t.Context(), fmt.Sprintf("udp://:%d", port), Options{})
		if err == nil {
			first.Close()
			break
		}
		port++
	}
	r := open(t, fmt.Sprintf("udp://:%d", port))
	conn, err := net.Dial("udp", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	text := second(time.Now())
	for _, datagram := range append(strings.Fields(text), text, text[:40], text[40:]) {
		if _, err := conn.Write([]byte(datagram)); err != nil {
			t.Fatal(err)
		}
	}
	got := await(t, r, 2*time.Second, "all six sentences", func(r Report) bool { return r.Sentences == 6 })
	if got.State != Fixed || got.Rejected != 0 {
		t.Errorf("state %v, %d rejected, want Fixed and 0", got.State, got.Rejected)
	}
}
