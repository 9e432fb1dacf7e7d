package tui

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"foreaim/gps"
	"foreaim/track/aim"
)

// settleFor is how long a receiver may take to tell the time before the
// computer's clock is built on: one that has a fix tells it every second.
const settleFor = 5 * time.Second

// model is the whole program between two messages.
type model struct {
	config  Config
	tracker *tracker
	glyphs  glyphs
	theme   theme
	keys    []binding

	columns, rows int // 0 until the terminal has told
	generation    int // of frames
	showing       screen
	entry         entry
	list          passList
	chooser       chooser
	outline       outline
	hills         hills
	help          helpPage

	facing    facing
	finder    finder
	marking   marking
	learning  learning
	boom      Boom // of somebody who practises
	recording recording
	speaking  speaking
	checking  checking
	noise     noise
	reception reception
	reviewing reviewing
	errands   errands
	silent    bool
	report    *gps.Report // the newest; nil without a receiver
	reports   <-chan gps.Report

	scene   scene // of the newest frame
	page    *canvas
	shown   []cell // of the page, what the picture shows
	picture string
	message string
	brief   string    // the message where there is little room; may be empty
	until   time.Time // the message is shown, by the computer
	keep    bool      // it was not asked for: it goes with the next key
	failure error     // a panic, to be told when the screen is restored
	began   time.Time // of the program, by the computer
}

// withDefaults fills in what may be left zero.
func (c Config) withDefaults() Config {
	if c.Now == nil {
		c.Now = time.Now
	}
	if c.Zone == nil {
		c.Zone = time.Local
	}
	if c.BeamwidthDeg == 0 {
		c.BeamwidthDeg = 50
	}
	if c.FistDeg == 0 {
		c.FistDeg = aim.FistDeg
	}
	c.Title = clean(c.Title)
	return c
}

// startFacing is the facing to begin with: the one of the outing that is taken
// up, else the given one.
func startFacing(c Config) facing {
	if c.Resume != nil && c.Resume.Facing != nil {
		return facing{known: true, deg: c.Resume.Facing.AzimuthDeg.Value, how: "taken up"}
	}
	f := facing{known: c.FacingKnown, deg: c.FacingDeg}
	if f.known {
		f.how = "given"
	}
	return f
}

func newModel(ctx context.Context, config Config, targets []target, t theme, bell ringer) *model {
	config = config.withDefaults()
	if config.ASCII {
		t = t.solid()
	}
	marks, lost := newMarking(config, targets)
	found, ahead := startFinder(config)
	m := &model{
		config:    config,
		tracker:   newTracker(ctx, config, targets),
		glyphs:    pickGlyphs(config.ASCII),
		theme:     t,
		keys:      bindings(),
		showing:   onPointing,
		chooser:   chooser{from: onPointing},
		facing:    ahead,
		finder:    found,
		silent:    config.Silent,
		marking:   marks,
		learning:  newLearning(config, targets),
		hills:     startHills(config),
		recording: newRecording(config),
		speaking:  speaking{voice: config.Voice, tones: config.Tones, bell: bell, off: config.Silent},
		checking:  newChecking(config),
		errands:   errands{commands: config.Commands},
		reports:   config.Reports,
	}
	if config.Reports != nil {
		m.report = new(gps.Report)
	}
	m.until = config.Now().Add(tellFor)
	switch {
	case lost != nil:
		m.message = clean("Not all marks could be taken up: " + lost.Error())
	case config.Resume != nil:
		heard, silent := 0, 0
		for _, list := range marks.all {
			t := tallyOf(list)
			heard, silent = heard+t.heard, silent+t.silent
		}
		m.message = fmt.Sprintf("The outing is taken up again: %d heard %d silent", heard, silent)
	case len(targets) > 0:
		m.message, m.brief = oldWarning(targets[m.tracker.chosen], config.Now())
		m.keep, m.until = m.message != "", config.Now().Add(insistFor)
	}
	if notice := clean(config.Notice); notice != "" {
		m.message, m.brief = strings.TrimPrefix(m.message+". "+notice, ". "), ""
	}
	return m
}

// Init starts the frames.
func (m *model) Init() tea.Cmd { return tea.Batch(nextFrame(m.generation), m.takeUp()) }

// Update takes a message. A panic anywhere in it ends the program, which then
// restores the screen before it is told.
func (m *model) Update(msg tea.Msg) (same tea.Model, cmd tea.Cmd) {
	defer func() {
		same = m // after a panic too
		if r := recover(); r != nil {
			m.failure = panicError(r)
		}
		if m.failure != nil {
			cmd = tea.Quit
		}
	}()
	return m, m.update(msg)
}

func (m *model) update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case frameMsg:
		if msg.generation != m.generation {
			return nil
		}
		cmd = nextFrame(m.generation)
	case tea.WindowSizeMsg:
		m.columns, m.rows = max(msg.Width, 0), max(msg.Height, 0)
		m.page, m.shown, m.picture = newCanvas(m.columns, m.rows, m.glyphs), nil, ""
	case tea.ResumeMsg:
		m.generation++
		cmd = nextFrame(m.generation)
	case tea.KeyMsg:
		if m.keep {
			m.message, m.keep = "", false
		}
		for _, k := range oneByOne(msg) {
			cmd = tea.Batch(cmd, m.takeKey(k))
		}
	case tea.MouseMsg:
		button := clicks[msg.Button]
		if msg.Action != tea.MouseActionPress || button == "" {
			return nil
		}
		cmd = m.press(button)
	case hillsMsg:
		m.takeHills(msg)
	case passesMsg:
		m.tracker.passes(msg)
	case offMsg:
		m.tracker.off(msg)
	case fellowsMsg:
		m.list.fellows.take(msg)
	case gatheredMsg:
		m.gathered(msg.gathered)
	case reckonedMsg:
		m.takeReckoned(msg.reckoned)
	case vistaMsg:
		m.reception.ground.take(msg.vista)
	case rhythmMsg:
		m.takeRhythm(msg)
	case learnedMsg:
		m.learned(msg)
	case planMsg:
		m.tracker.plan(msg)
	case catalogueMsg:
		m.catalogueOpen(msg)
	case takenUpMsg:
		m.takenUp(msg)
	case targetMsg:
		m.targetReady(msg)
	case rememberedMsg:
		m.remembered(msg)
	case reviewedMsg:
		cmd = m.reviewed(msg)
	case commandMsg:
		m.commandDone(msg)
	case panicMsg:
		m.failure = msg.error
		return nil
	default:
		return nil
	}
	m.look()
	work := m.work()
	m.draw()
	return tea.Batch(cmd, work)
}

// look takes the newest report and looks at everything as it is now.
func (m *model) look() {
	m.takeReport()
	m.scene = makeScene(m.tracker, &m.learning, m.config.Now(), m.facing, m.report, m.silent)
	m.lookNorth()
	m.scene.hillsMissing = m.hills.missing
	m.tellHills()
	m.scene.tellHand(m.config, m.boom)
	m.scene.tellSounds(m.config)
	m.learning.watch(&m.scene, m.facing)
	m.scene.tellBelief(&m.learning)
	m.scene.tellRecord(m.config.Record)
	m.scene.tellVoice(&m.speaking)
	if m.settled() {
		m.marking.choose(m.tracker.chosen)
		m.marking.expect(m.tracker, m.learning.version, &m.scene)
		m.recording.watch(&m.scene)
		m.recording.marks(m.scene.now, m.marking.number, m.marking.marks.Tick(m.scene.now))
		for _, check := range m.checking.watch(&m.scene, m.config) {
			m.recording.put(m.scene.now, check.Entry())
		}
	}
	m.scene.tally = tallyOf(m.marking.marks)
	m.scene.tally.told = m.telling() && m.message == capital(m.scene.tally.last)
	m.noise.watch(&m.scene)
	m.scene.todo, m.scene.insists = m.checking.todo(m.scene.now)
	m.watchReview()
	if m.settled() { // until then a countdown may be off by minutes
		m.speaking.callouts(&m.scene)
		m.speakTwist()
		m.speakNorth()
		m.speakCheck()
		m.speaking.bells.ring(m.scene.computer, m.speaking.bell)
	}
}

// settled tells whether the time can be built on: a receiver is given a moment
// to say how wrong the computer's clock is.
func (m *model) settled() bool {
	if m.began.IsZero() {
		m.began = m.scene.computer
	}
	return m.config.Reports == nil || m.scene.clock.Known || m.scene.computer.Sub(m.began).Abs() > settleFor
}

// takeReport takes the newest report, if there is a new one. Reports are
// fetched with the frames: nothing has to wait for them.
func (m *model) takeReport() {
	select {
	case r, ok := <-m.reports:
		if !ok {
			m.reports = nil
			m.report.State = gps.Lost
			return
		}
		m.report = &r
		m.tracker.report(r)
		m.addFix(r)
	default:
	}
}

// work starts the searches, the plans and the user's commands that are due, off
// the frames.
func (m *model) work() tea.Cmd {
	all := []tea.Cmd{guard(m.tracker.update(m.scene.now)), guard(m.hillsDue()), guard(m.fellowsDue()), m.receptionDue(), guard(m.rhythmDue()), guard(m.learnDue()), guard(m.keepPlace())}
	if m.settled() {
		for _, cmd := range m.errands.due(&m.scene) {
			all = append(all, guard(cmd))
		}
	}
	return tea.Batch(all...)
}

// show returns what shows a view.
func show(v screen) func(m *model) tea.Cmd {
	return func(m *model) tea.Cmd {
		m.showing = v
		return nil
	}
}

// draw draws the view that is shown.
func (m *model) draw() {
	if m.page == nil {
		return
	}
	m.page.clear()
	switch m.showing {
	case onPasses:
		m.list.draw(m.page, &m.scene, m.tracker, m.footer())
	case onSatellites:
		m.chooser.draw(m.page, &m.scene, m.config.Catalogue != nil, m.footer())
	case onNorth:
		drawNorth(m.page, &m.scene, &m.finder, m.footer())
	case onChecks:
		drawChecks(m.page, &m.scene, &m.checking, m.footer())
	case onSkyline:
		drawOutline(m.page, &m.scene, &m.outline, m.footer())
	case onReception:
		drawReception(m.page, &m.scene, &m.reception, m.config.Radio != nil, m.footer())
	case onGround:
		drawGroundWay(m.page, &m.scene, &m.reception, m.config, m.footer())
	case onReview:
		m.reviewing.draw(m.page, &m.scene, m.footer())
	case onHelp:
		m.help.draw(m.page, m.keys)
	default:
		drawPointing(m.page, &m.scene, m.footer())
	}
	last := m.rows - 1
	switch {
	case m.entry.open:
		m.lastRow(last, block, m.entry.line()...)
	case m.telling():
		m.lastRow(last, block, m.message, cmp.Or(m.brief, m.message))
	}
	if !slices.Equal(m.page.cells, m.shown) { // most frames change nothing
		m.picture = m.page.render(m.theme)
		m.shown = append(m.shown[:0], m.page.cells...)
	}
}

// View returns the picture that the last message left.
func (m *model) View() string { return m.picture }
