package outing

// Kind returns KindStart.
func (StartEntry) Kind() Kind { return KindStart }

// Kind returns KindFix.
func (FixEntry) Kind() Kind { return KindFix }

// Kind returns KindClock.
func (ClockEntry) Kind() Kind { return KindClock }

// Kind returns KindFacing.
func (FacingEntry) Kind() Kind { return KindFacing }

// Kind returns KindElements.
func (ElementsEntry) Kind() Kind { return KindElements }

// Kind returns KindPass.
func (PassEntry) Kind() Kind { return KindPass }

// Kind returns KindAdvice.
func (AdviceEntry) Kind() Kind { return KindAdvice }

// Kind returns KindHold.
func (HoldEntry) Kind() Kind { return KindHold }

// Kind returns KindMark.
func (MarkEntry) Kind() Kind { return KindMark }

// Kind returns KindSensor.
func (SensorEntry) Kind() Kind { return KindSensor }

// Kind returns KindCheck.
func (CheckEntry) Kind() Kind { return KindCheck }

// Kind returns KindWarning.
func (WarningEntry) Kind() Kind { return KindWarning }

// Kind returns KindCommand.
func (CommandEntry) Kind() Kind { return KindCommand }

// Kind returns KindNote.
func (NoteEntry) Kind() Kind { return KindNote }

// Kind returns KindEnd.
func (EndEntry) Kind() Kind { return KindEnd }
