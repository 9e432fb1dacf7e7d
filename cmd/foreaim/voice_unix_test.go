//go:build unix

package main

import (
	"encoding/binary"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// voice is espeak-ng, writing WAV files, with a diary of what it was asked to
// say.
type voice struct {
	folder string
	ahead  time.Duration // true time minus the computer's
}

// spoken is one text that was said.
type spoken struct {
	begun time.Time // true
	text  string
	wav   string // empty when it was interrupted before it was spoken
}

// voiceScript writes down the time and the text, lets espeak-ng speak it into a
// file, and takes as long as saying it aloud would: 22050 samples of two bytes a
// second, after a header of 44.
const voiceScript = `#!/bin/sh
cd "$(dirname "$0")" || exit
at=$(date +%s.%N)
printf '%s\t%s\n' "$at" "$1" >>begun
espeak-ng -s 160 -w "$at.wav" "$1" || exit
echo "$at.wav" >>written
sleep "$(awk "BEGIN { print ($(wc -c <"$at.wav") - 44) / 44100 }")"
`

// newVoice prepares a voice. It skips only where espeak-ng is missing and CI is
// unset.
func newVoice(t *testing.T, ahead time.Duration) *voice {
	t.Helper()
	if _, err := exec.LookPath("espeak-ng"); err != nil && os.Getenv("CI") == "" {
		t.Skip("espeak-ng is missing")
	}
	v := &voice{t.TempDir(), ahead}
	if err := os.WriteFile(filepath.Join(v.folder, "say"), []byte(voiceScript), 0o700); err != nil {
		t.Fatal(err)
	}
	return v
}

// command is the line for the configuration.
func (v *voice) command() string { return fmt.Sprintf("'%s' {text}", filepath.Join(v.folder, "say")) }

// said returns what was said, in order.
func (v *voice) said(t *testing.T) []spoken {
	t.Helper()
	begun, err := os.ReadFile(filepath.Join(v.folder, "begun"))
	if err != nil {
		t.Fatalf("nothing was spoken: %v", err)
	}
	written, err := os.ReadFile(filepath.Join(v.folder, "written"))
	if err != nil {
		t.Fatalf("nothing was written: %v", err)
	}
	var all []spoken
	for line := range strings.Lines(string(begun)) {
		at, text, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		seconds, err := strconv.ParseFloat(at, 64)
		if err != nil {
			t.Fatalf("the voice's diary has %q", line)
		}
		s := spoken{time.UnixMicro(int64(seconds * 1e6)).Add(v.ahead), text, ""}
		if strings.Contains(string(written), at+".wav\n") {
			s.wav = filepath.Join(v.folder, at+".wav")
		}
		all = append(all, s)
	}
	return all
}

// checkWAV tells whether a file holds sound: a RIFF file of the form WAVE whose
// samples are not all the same (the layout: Multimedia Programming Interface
// and Data Specifications 1.0, IBM and Microsoft, 1991).
func checkWAV(file string) error {
	data, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	if len(data) < 44 || string(data[:4]) != "RIFF" || string(data[8:16]) != "WAVEfmt " || string(data[36:40]) != "data" {
		return fmt.Errorf("%s is no WAV file", file)
	}
	loudest := 0
	for i := 44; i+1 < len(data); i += 2 {
		loudest = max(loudest, int(int16(binary.LittleEndian.Uint16(data[i:]))))
	}
	if loudest < 1000 {
		return fmt.Errorf("%s is %d bytes of silence", file, len(data))
	}
	return nil
}
