---@meta halfsplit
--
-- What a playbook and a kit may say, for lua-language-server; docs/playbooks.md tells how to use it. `make test-luacats` holds it
-- against the program: a line "-- words: FILE NAME" names the list of words that the class or alias below it has, all of them
-- and no other.

-- ---- texts that are quantities ----

---A quantity with its unit: "12 V", "-30 dBm", "2.2 kohm", "5 s".
---@alias halfsplit.Quantity string

---A span: "10 MHz .. 6 GHz".
---@alias halfsplit.Span string

---"12 V +/- 5 %", "11.4 V .. 12.6 V", "at least 10 dBm", "at most 2 ohm", "nothing above -90 dBm", "open".
---@alias halfsplit.Limits string

---"0.2 dB", "0.5 %", "0.5 % + 20 mV"; with "k2 " before it an expanded figure.
---@alias halfsplit.Accuracy string

---Series and gender: "N male", "SMA female".
---@alias halfsplit.Connector string

---The unit's end, then the instrument's.
---@alias halfsplit.Ends {[1]: halfsplit.Connector, [2]: halfsplit.Connector}

-- ---- words to choose from ----

-- words: core/lineup/part.c names
---What is read.
---@alias halfsplit.Measurand
---| "power"
---| "volts"
---| "ac volts"
---| "amps"
---| "ohms"
---| "continuity"
---| "diode"
---| "frequency"
---| "time"
---| "temperature"
---| "capacitance"
---| "return loss"
---| "swr"
---| "noise rise"
---| "sinad"
---| "count"
---| "percent"
---| "loss"
---| "peak"
---| "dip"
---| "rate"
---| "minimum"
---| "maximum"
---| "trend"
---| "tick"
---| "trace"

-- words: core/model/unit.c need_names
---The power state that a step needs.
---@alias halfsplit.Need "any"|"dead"|"off"|"standby"|"on"|"keyed"

-- words: core/model/unit.c openable_names, without cover
---@alias halfsplit.ChangeKind "link"|"lifted leg"|"short"|"open port"|"broken joint"|"defeated interlock"|"pad"

-- words: core/playbook/bind_outcome.c holds_words
---What a reading holds through.
---@alias halfsplit.Hold "do"|"adjust"|"opening"|"hookup"|"energising"|"all"

---@alias halfsplit.Outcome "low"|"ok"|"high"|"unsure"|"unread"

---@alias halfsplit.Id string an id: a letter or digit, then letters, digits and . _ + -

-- ---- branches and functions ----

-- words: core/playbook/bind_branch.c hs_branch_words
---Where a step leads, and what that says of suspects.
---@class (exact) halfsplit.BranchTable
---@field to halfsplit.Id the step it leads to
---@field clears? halfsplit.Id[] suspects that it cannot be
---@field implicates? halfsplit.Id[] suspects that it points at
---@field counts? halfsplit.Id the counter it counts against

---@alias halfsplit.Branch halfsplit.Id|halfsplit.BranchTable

---"STEP" or "STEP/READING"; with a name of its own, or v["STEP"].
---@alias halfsplit.Uses string|table<integer|string, string>

---What a function sees: numbers in the reading's unit, the word chosen at a look step, nil where nothing was taken.
---@alias halfsplit.Values table<string, any>

---@alias halfsplit.Outcomes table<string, halfsplit.Outcome>

---Limits computed from what the step uses: a text, { LOW, HIGH }, { low = LOW } or { high = HIGH }.
---@alias halfsplit.LimitsFunction fun(v: halfsplit.Values, outcome: halfsplit.Outcomes): (string|number[]|table<"low"|"high", number>)

---One of the targets in `to`.
---@alias halfsplit.DecideFunction fun(v: halfsplit.Values, outcome: halfsplit.Outcomes): halfsplit.Id

-- ---- playbook ----

-- words: core/playbook/bind_playbook.c symptom_words
---@class (exact) halfsplit.Symptom
---@field [1] string what the unit does wrong
---@field under? string the conditions
---@field power? halfsplit.Need
---@field open? halfsplit.Id[] covers that are off meanwhile
---@field tries? integer how often it is tried; 1 unless given
---@field absent? halfsplit.Branch where to when it never shows

-- words: core/playbook/bind_branch.c hs_branch_words
---@class (exact) halfsplit.Entry
---@field [1] string the word typed
---@field [2] string what failed
---@field to halfsplit.Id
---@field clears? halfsplit.Id[]
---@field implicates? halfsplit.Id[]
---@field counts? halfsplit.Id

-- words: core/playbook/bind_playbook.c playbook_words
---@class (exact) halfsplit.Playbook
---@field id string the file's path below its library folder, without .lua
---@field edition? integer raise it with every change; 1 unless given
---@field title string
---@field family string
---@field first string[] what to do first so that the unit harms itself no further
---@field symptom? halfsplit.Symptom
---@field enter? halfsplit.Id|halfsplit.Entry[] where a run begins; the first step unless given
---@field tools? string|string[] to be laid out, besides the unit's
---@field consumables? string|string[]
---@field proved? boolean no instrument is believed before a prove step showed it good
---@field doubles? string|string[] two faults at once that a proof plays: "a1/dead + psu/low"

---Declares the playbook; once in the file that is run.
---@param table halfsplit.Playbook
function playbook(table) end

-- ---- unit ----

-- words: core/playbook/bind_unit.c source_words
---A supply or a rail.
---@class (exact) halfsplit.Source
---@field [1] halfsplit.Quantity its volts
---@field zone? halfsplit.Id "inside" unless given
---@field max? boolean the volts are the most it can be, not nominal
---@field title? string
---@field mains? boolean it is mains, whatever its name

-- words: core/playbook/bind_unit.c over_words
---The tolerance at the limit, in place of 20 % and 10 %.
---@class (exact) halfsplit.Over
---@field farads? string
---@field bleed? string

-- words: core/playbook/bind_unit.c store_words
---A capacitor that keeps a charge.
---@class (exact) halfsplit.Store
---@field charged halfsplit.Quantity
---@field farads halfsplit.Quantity
---@field bleed? halfsplit.Quantity its bleeder; without one no wait is trusted
---@field zone? halfsplit.Id
---@field max? boolean
---@field follows_line? boolean
---@field title? string
---@field over? halfsplit.Over

-- words: core/playbook/bind_unit.c emit_words
---@class (exact) halfsplit.Emitter
---@field rf halfsplit.Quantity the power it emits
---@field key? halfsplit.Quantity the longest key-down; 5 s unless given
---@field cool? halfsplit.Quantity how long it rests between two key-downs
---@field drive? boolean false: drive alone does not make it transmit, a key line does

-- words: core/playbook/bind_unit.c zone_words
---@class (exact) halfsplit.Zone
---@field guard? halfsplit.Id the cover that shuts it off
---@field title? string

-- words: core/playbook/bind_unit.c part_words
---A cover.
---@class (exact) halfsplit.Part
---@field title? string
---@field after? halfsplit.Id the cover that comes off first
---@field needs? halfsplit.Need the power state to take it off
---@field fixings? string
---@field torque? string

-- words: core/playbook/bind_unit.c change_words
---A temporary change that a step may make.
---@class (exact) halfsplit.Change
---@field kind halfsplit.ChangeKind
---@field title? string
---@field zone? halfsplit.Id where the hands go; outside unless given
---@field needs? halfsplit.Need
---@field after? halfsplit.Id

-- words: core/playbook/bind_unit.c break_words
---A joint that a step may part.
---@class (exact) halfsplit.Break
---@field title? string
---@field connector? string
---@field torque? string
---@field terminate? string what goes on the side that is not used
---@field zone? halfsplit.Id
---@field needs? halfsplit.Need
---@field after? halfsplit.Id

-- words: core/playbook/bind_control.c control_words
---What can be set; its positions come first.
---@class (exact) halfsplit.Control
---@field [integer] string a position
---@field title? string
---@field zone? halfsplit.Id where the hand goes; outside unless given

-- words: core/playbook/bind_danger.c common_words
---A danger beside energy. What is not stated counts as the worst.
---@class (exact) halfsplit.Hazard
---@field title? string
---@field zone? halfsplit.Id where it is; the whole unit unless given

-- words: core/playbook/bind_danger.c chassis_words
---@class (exact) halfsplit.LiveChassis: halfsplit.Hazard
---@field [1] "live chassis"
---@field volts? halfsplit.Quantity the most it can be against earth, as a peak

-- words: core/playbook/bind_danger.c tubes_words
---@class (exact) halfsplit.HighVoltage: halfsplit.Hazard
---@field [1] "high voltage"
---@field volts halfsplit.Quantity the highest there
---@field heater? halfsplit.Quantity how long it warms up before high voltage
---@field run_on? halfsplit.Quantity how long heater and blower run on
---@field blower? boolean false: no forced air
---@field xray? boolean false: no X-ray shields
---@field implosion? boolean false: no glass under vacuum

-- words: core/playbook/bind_danger.c cells_words
---@class (exact) halfsplit.LithiumCells: halfsplit.Hazard
---@field [1] "lithium cells"
---@field most? halfsplit.Quantity volts of one cell, as its maker says
---@field least? halfsplit.Quantity
---@field temperature? halfsplit.Quantity the warmest they may be; 40 degC unless given

-- words: core/playbook/bind_danger.c battery_words
---@class (exact) halfsplit.Battery: halfsplit.Hazard
---@field [1] "battery"
---@field fuse? halfsplit.Quantity the largest fuse at its source; 10 A unless given
---@field wet? boolean false: no acid or caustic in it

-- words: core/playbook/bind_danger.c toxic_words
---@class (exact) halfsplit.ToxicPart: halfsplit.Hazard
---@field [1] "toxic part"
---@field of? string of what

-- words: core/playbook/bind_danger.c laser_words
---@class (exact) halfsplit.Laser: halfsplit.Hazard
---@field [1] "laser"
---@field class? "1"|"1M"|"2"|"2M"|"3R"|"3B"|"4" not given: the worst
---@field wavelength? halfsplit.Quantity
---@field density? integer the least optical density of the eyewear; 7 unless given

-- words: core/playbook/bind_danger.c flammable_words
---@class (exact) halfsplit.Flammable: halfsplit.Hazard
---@field [1] "flammable"
---@field of? string what it is
---@field airs? halfsplit.Quantity how long until its vapour is gone; 10 min unless given

-- words: core/playbook/bind_danger.c handling_words
---@class (exact) halfsplit.Handling: halfsplit.Hazard
---@field [1] "handling"
---@field part? halfsplit.Id the cover it speaks of
---@field mass? halfsplit.Quantity not given: too heavy for one
---@field hot? boolean false: it never is
---@field sharp? boolean false: it is not
---@field tips? boolean false: it does not

---@class (exact) halfsplit.StaticSensitive: halfsplit.Hazard
---@field [1] "static-sensitive"

---@alias halfsplit.AnyHazard halfsplit.LiveChassis|halfsplit.HighVoltage|halfsplit.LithiumCells|halfsplit.Battery|halfsplit.ToxicPart|halfsplit.Laser|halfsplit.Flammable|halfsplit.Handling|halfsplit.StaticSensitive

-- words: core/playbook/bind_unit.c unit_words
---@class (exact) halfsplit.Unit
---@field supply? table<halfsplit.Id, halfsplit.Quantity|halfsplit.Source>
---@field rails? table<halfsplit.Id, halfsplit.Quantity|halfsplit.Source>
---@field stores? table<halfsplit.Id, halfsplit.Store>
---@field emits? table<halfsplit.Id, halfsplit.Emitter>
---@field zones? table<halfsplit.Id, halfsplit.Zone>
---@field parts? table<halfsplit.Id, halfsplit.Part>
---@field changes? table<halfsplit.Id, halfsplit.Change>
---@field breaks? table<halfsplit.Id, halfsplit.Break>
---@field switch? string where it is switched off
---@field standby? boolean it has a standby state
---@field controls? table<halfsplit.Id, halfsplit.Control>
---@field tools? string|string[] to be laid out, beside the drivers that the fixings call for
---@field consumables? string|string[]
---@field hazards? table<halfsplit.Id, halfsplit.AnyHazard>

---Declares where energy is and what comes off; once. What is not declared is not guarded.
---@param table halfsplit.Unit
function unit(table) end

-- words: core/playbook/bind_unit.c point_words
---@class (exact) halfsplit.Point
---@field [1]? halfsplit.Id
---@field title? string
---@field zone? halfsplit.Id
---@field behind? halfsplit.Id[] covers and joints before it
---@field accepts? halfsplit.Quantity the most an input takes
---@field gives? halfsplit.Quantity the most an output gives
---@field dc? halfsplit.Quantity DC this line can carry
---@field impedance? halfsplit.Quantity
---@field connector? halfsplit.Connector

---Declares where one can read or inject.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Point)
---@overload fun(table: halfsplit.Point)
function point(id) end

-- words: core/playbook/bind_branch.c suspect_words
---@class (exact) halfsplit.Suspect
---@field [1]? halfsplit.Id
---@field title? string
---@field modes? string|string[] how it can fail
---@field odds? integer how likely beside the others; 1 unless given
---@field intermittent? table<string, string> modes that come and go, and how often: { MODE = "1 in 4" }
---@field shows? table<string, table<string, string>> what the unit shows with each mode: { MODE = { STEP = "what is typed" } }

---Declares what can be at fault.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Suspect)
---@overload fun(table: halfsplit.Suspect)
function suspect(id) end

---Says what a unit in order shows where no limits tell: { STEP = "what is typed", POINT = "12 V +/- 2 %" }.
---@param table table<string, string>
function healthy(table) end

-- words: core/playbook/bind_counter.c counter_words
---@class (exact) halfsplit.Counter
---@field [1]? halfsplit.Id
---@field most integer
---@field beyond halfsplit.Branch

---Declares a bound that several branches share.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Counter)
---@overload fun(table: halfsplit.Counter)
function counter(id) end

-- words: core/playbook/bind_picture.c picture_words
---@class (exact) halfsplit.Picture
---@field [1]? halfsplit.Id
---@field file string an SVG file beneath the playbook's folder
---@field title? string
---@field marks? table<string, string> ids of elements of the SVG, and where they are in words

---Declares a picture that steps may see.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Picture)
---@overload fun(table: halfsplit.Picture)
function picture(id) end

-- words: core/playbook/bind_picture.c chain_words
---@class (exact) halfsplit.Chain
---@field [integer]? halfsplit.Id points and suspects in their order
---@field title? string

---Declares the way of a signal, for drawing.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Chain)
---@overload fun(table: halfsplit.Chain)
function chain(id) end

-- words: core/playbook/bind_role.c role_words
---What is asked of a hookup.
---@class (exact) halfsplit.Role
---@field [1]? string
---@field title? string
---@field kind? "source"|"meter" meter unless given
---@field ends? halfsplit.Ends
---@field reads? halfsplit.Measurand|halfsplit.Measurand[] what its instrument must read
---@field freq? halfsplit.Span|halfsplit.Quantity where it must work
---@field loss? string the most it may take: "1 dB at 2 GHz"
---@field stands? halfsplit.Quantity the power it must stand
---@field range? halfsplit.Span what must be read, or given
---@field u? halfsplit.Quantity the most that U may be

---Declares a hookup that steps name, and that a shop fills from its kit.
---@param name string
---@return fun(table: halfsplit.Role)
---@overload fun(table: halfsplit.Role)
function role(name) end

-- ---- line-ups ----

---What stands for an element in the list of its line-up.
---@alias halfsplit.Element userdata

---Elements one behind the other; a text names a declared point.
---@alias halfsplit.ElementList (halfsplit.Element|string)[]

---"14 dB +/- 1 dB", { ["100 MHz"] = "14 dB", ["200 MHz"] = "13 dB" }; in a line-up of volts also a factor, "0.5 +/- 5 %".
---@alias halfsplit.Gain string|table<string, string>

---A frequency, or one for each position of a control: { band = { low = "1.33 GHz", high = "1.43 GHz" } }.
---@alias halfsplit.Tuning halfsplit.Quantity|table<halfsplit.Id, table<string, halfsplit.Quantity>>

-- words: core/playbook/bind_response.c law_words
---A loss that grows with the root of frequency, and with frequency itself.
---@class (exact) halfsplit.LossLaw
---@field root? halfsplit.Quantity so much of it at that frequency
---@field linear? halfsplit.Quantity
---@field at halfsplit.Quantity

-- words: core/playbook/bind_element.c stands_words
---What an input stands.
---@class (exact) halfsplit.Stands
---@field average? halfsplit.Quantity
---@field peak? halfsplit.Quantity
---@field dc? halfsplit.Quantity

-- words: core/playbook/bind_element.c common_words
---@class (exact) halfsplit.LineElement
---@field title? string
---@field from? halfsplit.Id the element that feeds it, instead of the one before it
---@field suspect? halfsplit.Id the suspect it is; that of its own id unless given
---@field faults? table<string, string> what each mode of its suspect does: { ["low gain"] = "gain -10 dB" }
---@field impedance? halfsplit.Quantity
---@field supply? halfsplit.Id the supply element it is dead without
---@field max? halfsplit.Stands what its input stands

-- words: core/playbook/bind_element.c gain_words
---@class (exact) halfsplit.LineGain: halfsplit.LineElement
---@field gain? halfsplit.Gain
---@field loss? halfsplit.Gain
---@field law? halfsplit.LossLaw a loss that grows with frequency, everywhere above 0 Hz
---@field touchstone? string a two-port file; |S21| is the gain
---@field coax? string a generic cable type
---@field length? halfsplit.Quantity of that cable
---@field tolerance? halfsplit.Quantity of a table, a file or a cable

-- words: core/playbook/bind_element.c port_words
---@class (exact) halfsplit.LinePort: halfsplit.LineElement
---@field accepts? halfsplit.Quantity
---@field gives? halfsplit.Quantity

---Where the signal comes in or goes out; declares the point when nothing else does.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LinePort): halfsplit.Element
---@overload fun(table: halfsplit.LinePort): halfsplit.Element
function port(id) end

-- words: core/playbook/bind_element.c tap_words
---A point as an element of a line-up.
---@class (exact) halfsplit.LinePoint: halfsplit.LineGain
---@field tap? string how far below the line one reads: "20 dB +/- 0.5 dB"

-- words: core/playbook/bind_element.c stage_words
---@class (exact) halfsplit.LineStage: halfsplit.LineGain
---@field nf? halfsplit.Quantity noise figure
---@field p1db? string output at 1 dB of compression: "+10 dBm +/- 0.5 dB"
---@field holds? string it gives no more than that: a regulator, a limiter
---@field times? integer it multiplies the frequency by that

---An amplifier, filter, pad or cable.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineStage): halfsplit.Element
---@overload fun(table: halfsplit.LineStage): halfsplit.Element
function stage(id) end

-- words: core/playbook/bind_element.c mixer_words
---@class (exact) halfsplit.LineMixer: halfsplit.LineGain
---@field nf? halfsplit.Quantity
---@field p1db? string
---@field lo? halfsplit.Tuning
---@field lo_from? halfsplit.Id the element that drives it
---@field needs? halfsplit.Quantity the least drive
---@field to? "difference"|"sum"
---@field tuned? halfsplit.Quantity what comes out, whatever goes in

---A frequency conversion.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineMixer): halfsplit.Element
---@overload fun(table: halfsplit.LineMixer): halfsplit.Element
function mixer(id) end

-- words: core/playbook/bind_element.c way_words
---@class (exact) halfsplit.LineSwitch: halfsplit.LineGain
---@field by halfsplit.Id the control that sets it
---@field ways table<string, halfsplit.ElementList> by position

---A switch or a switched bank.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineSwitch): halfsplit.Element
---@overload fun(table: halfsplit.LineSwitch): halfsplit.Element
function switch(id) end

-- words: core/playbook/bind_element.c split_words
---@class (exact) halfsplit.LineSplit: halfsplit.LineGain
---@field side? halfsplit.ElementList what hangs on its other output

---A split; the chain goes on from it.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineSplit): halfsplit.Element
---@overload fun(table: halfsplit.LineSplit): halfsplit.Element
function split(id) end

-- words: core/playbook/bind_element.c coupler_words
---@class (exact) halfsplit.LineCoupler: halfsplit.LineGain
---@field coupling string "30 dB +/- 0.5 dB"
---@field directivity? string
---@field forward? halfsplit.ElementList
---@field reverse? halfsplit.ElementList a healthy unit shows at most that there

---A directional coupler.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineCoupler): halfsplit.Element
---@overload fun(table: halfsplit.LineCoupler): halfsplit.Element
function coupler(id) end

-- words: core/playbook/bind_element.c joint_words
---@class (exact) halfsplit.LineJoint: halfsplit.LineGain
---@field breaks? halfsplit.Id the joint of the unit that parts it; that of its own id unless given

---A joint that can be parted.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineJoint): halfsplit.Element
---@overload fun(table: halfsplit.LineJoint): halfsplit.Element
function joint(id) end

-- words: core/playbook/bind_element.c oscillator_words
---@class (exact) halfsplit.LineOscillator: halfsplit.LineElement
---@field gives string "7 dBm +/- 1 dB"
---@field freq halfsplit.Tuning
---@field locks? halfsplit.Id the reference it locks to
---@field needs? halfsplit.Quantity the least reference

---It makes a signal of its own.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineOscillator): halfsplit.Element
---@overload fun(table: halfsplit.LineOscillator): halfsplit.Element
function oscillator(id) end

-- words: core/playbook/bind_element.c feed_words
---@class (exact) halfsplit.LineSupply: halfsplit.LineGain
---@field gives string "12 V +/- 4 %"

---It feeds stages.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineSupply): halfsplit.Element
---@overload fun(table: halfsplit.LineSupply): halfsplit.Element
function supply(id) end

-- words: core/playbook/bind_element.c levelling_words
---@class (exact) halfsplit.LineLevelling: halfsplit.LineGain
---@field holds string what its detector is held at
---@field at halfsplit.Id its detector
---@field range halfsplit.Quantity how far it turns down
---@field when? table<halfsplit.Id, string> the position of a control in which it works

---It turns down until its detector sees no more than is held.
---@param id halfsplit.Id
---@return fun(table: halfsplit.LineLevelling): halfsplit.Element
---@overload fun(table: halfsplit.LineLevelling): halfsplit.Element
function levelling(id) end

-- words: core/playbook/bind_lineup.c lineup_words
---@class (exact) halfsplit.Lineup
---@field [integer] halfsplit.Element|string
---@field title? string
---@field impedance? halfsplit.Quantity of its lines
---@field levels? string the kind of unit its ports are in: "dBm", "V"

---The chain the signal goes through. The id stands before the braces.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Lineup)
function lineup(id) end

-- words: core/playbook/bind_expect.c expect_words
---@class (exact) halfsplit.Expect
---@field [1] halfsplit.Id the line-up
---@field worst? boolean every element at its worst at once, instead of root-sum-square
---@field wider? string limits further out by so much on both sides: "1 dB"

-- ---- step ----

---Positions of controls: { band = "low" }.
---@alias halfsplit.Settings table<halfsplit.Id, string>

-- words: core/playbook/bind_step.c inject_words
---A signal that goes in.
---@class (exact) halfsplit.Injection
---@field [1] halfsplit.Quantity the level at the point
---@field at halfsplit.Id
---@field freq? halfsplit.Quantity
---@field hookup string
---@field margin? string why it may come near the point's rating
---@field crest? halfsplit.Quantity its peak above its average; a steady carrier has none

-- words: core/playbook/bind_step.c load_words
---What keyed power goes into.
---@class (exact) halfsplit.Load
---@field [1] string
---@field at halfsplit.Id
---@field rated? halfsplit.Quantity
---@field time? halfsplit.Quantity

-- words: core/playbook/bind_reading.c reading_words
---@class (exact) halfsplit.ReadingKeys
---@field at? string the point; without `at` and `hookup` it is read by eye
---@field against? string the other prod: "chassis"
---@field hookup? string
---@field freq? halfsplit.Quantity
---@field unit? string another unit of the same kind
---@field asks? string the whole instruction, in place of the one that is made
---@field loose? boolean a removed part or a loose lead: needs no proof
---@field settle? halfsplit.Quantity how long to wait before
---@field plausible? halfsplit.Limits outside it is asked again, never judged
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction
---@field uses? halfsplit.Uses
---@field held? string what is held down meanwhile
---@field within? halfsplit.Quantity how soon after the last act it must be answered
---@field set? halfsplit.Settings
---@field margin? string why the level may come near what the instrument stands
---@field expect? halfsplit.Id|boolean|halfsplit.Expect limits from a line-up
---@field mask? string of a trace: a CSV file of frequency,min,max

---@class (exact) halfsplit.Reading: halfsplit.ReadingKeys
---@field [1] halfsplit.Measurand

---@class (exact) halfsplit.NamedReading: halfsplit.ReadingKeys
---@field [1] halfsplit.Id its name within the step
---@field [2] halfsplit.Measurand

-- words: core/playbook/bind_step.c end_words
---What every kind of step may say.
---@class (exact) halfsplit.AnyStep
---@field [1]? halfsplit.Id
---@field title? string
---@field note? string a remark, shown by help
---@field passed? halfsplit.Id[] not before these have come out ok
---@field not_yet? halfsplit.Branch where to while they have not

-- words: core/playbook/bind_step.c common_words, without end_words
---What every step may say that needs the unit.
---@class (exact) halfsplit.BenchStep: halfsplit.AnyStep
---@field see? halfsplit.Id a picture that shows where it is
---@field mark? halfsplit.Id the mark of it; that of the point read at unless given
---@field power? halfsplit.Need
---@field zone? halfsplit.Id where hands or tools go
---@field outside? boolean it is done from outside every guard
---@field open? halfsplit.Id[] covers that must be off
---@field breaks? halfsplit.Id[] joints that must be parted
---@field with? halfsplit.Id[] temporary changes that may be in place while powered
---@field set? halfsplit.Settings
---@field minutes? number
---@field helper? string what a second person does here
---@field substance? halfsplit.Id|halfsplit.Id[] flammable hazards of the unit that this act uses
---@field inject? halfsplit.Injection
---@field load? halfsplit.Load
---@field key? halfsplit.Quantity how long it is keyed
---@field unshort? halfsplit.Id[] stores whose short comes off for this reading
---@field attach? "dead" the hookup goes on while proved dead
---@field live? string why a reading in a live hazardous zone cannot be taken dead
---@field most? integer visits at most
---@field beyond? halfsplit.Branch where the next one leads

-- words: core/playbook/bind_step.c tell_words
---@class (exact) halfsplit.TellStep: halfsplit.BenchStep
---@field tell string
---@field next halfsplit.Branch

-- words: core/playbook/bind_step.c read_words
---@class (exact) halfsplit.ReadStep: halfsplit.BenchStep
---@field read halfsplit.Reading|halfsplit.NamedReading[]
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction the interval a healthy unit falls in
---@field plausible? halfsplit.Limits
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch a limit lies inside the uncertainty
---@field unread? halfsplit.Branch it could not be taken
---@field otherwise? halfsplit.Branch for the outcomes not named
---@field next? halfsplit.Branch instead, when there are no limits
---@field reuse? halfsplit.Id the step whose reading may serve
---@field holds? halfsplit.Hold|halfsplit.Hold[]
---@field uses? halfsplit.Uses
---@field difference? string[] two names of readings: the first less the second
---@field ratio? string[] two names of readings: the first over the second
---@field expect? halfsplit.Id|boolean|halfsplit.Expect limits from a line-up

-- words: core/playbook/bind_step.c zero_words
---The leads' own resistance, taken off what is read with them until a piece of them changes.
---@class (exact) halfsplit.ZeroStep: halfsplit.BenchStep
---@field zero string the hookup
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction "at most 2 ohm" unless given
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch
---@field uses? halfsplit.Uses

-- words: core/playbook/bind_leads.c straight_words
---@class (exact) halfsplit.Straight
---@field [1] string the source's hookup
---@field [2] string the meter's hookup
---@field level halfsplit.Quantity what the source is set to
---@field freq halfsplit.Quantity
---@field u? halfsplit.Quantity what joining the leads anew may make; 0.1 dB unless given

-- words: core/playbook/bind_step.c straight_step_words
---Two leads end to end: what they are measured to take goes before their tables.
---@class (exact) halfsplit.StraightStep: halfsplit.BenchStep
---@field straight halfsplit.Straight
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction of what the meter shows; 1 dB around what the tables say unless given
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch
---@field uses? halfsplit.Uses

-- words: core/playbook/bind_step.c prove_words
---An instrument shown good on a known source of the kit.
---@class (exact) halfsplit.ProveStep: halfsplit.BenchStep
---@field prove {[1]: string, [2]: halfsplit.Measurand} the hookup, and what is read with it
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch a finding that blames nobody

-- words: core/playbook/bind_look.c answer_words
---@class (exact) halfsplit.Answer
---@field [1] string the word typed
---@field [2]? string what it looks like
---@field stop? boolean cut the power now
---@field again? halfsplit.Branch where the same answer leads from the second time on
---@field to? halfsplit.Id
---@field clears? halfsplit.Id[]
---@field implicates? halfsplit.Id[]
---@field counts? halfsplit.Id

-- words: core/playbook/bind_step.c look_words
---@class (exact) halfsplit.LookStep: halfsplit.BenchStep
---@field look string the question
---@field answers halfsplit.Answer[]

-- words: core/playbook/bind_step.c compare_words
---@class (exact) halfsplit.CompareStep: halfsplit.BenchStep
---@field compare string the question
---@field same halfsplit.Branch
---@field different halfsplit.Branch
---@field unclear halfsplit.Branch

-- words: core/playbook/bind_step.c act_words
---@class (exact) halfsplit.ActStep: halfsplit.BenchStep
---@field act string what to do
---@field makes? halfsplit.Id[] temporary changes that are made
---@field cures? halfsplit.Id[] suspects that are in order afterwards, for a proof
---@field undoes? halfsplit.Id[]
---@field next halfsplit.Branch

-- words: core/playbook/bind_step.c wait_words
---@class (exact) halfsplit.WaitStep: halfsplit.BenchStep
---@field wait halfsplit.Quantity|string[] how long; or that, and why
---@field text? string why
---@field next halfsplit.Branch

-- words: core/playbook/bind_adjust.c adjust_words
---@class (exact) halfsplit.Adjustment
---@field [1] string what to turn
---@field read halfsplit.Reading|halfsplit.NamedReading[]
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction
---@field plausible? halfsplit.Limits
---@field responds? halfsplit.Quantity a change by this much is enough
---@field tries? integer readings at most
---@field tune? "peak"|"dip" for the highest or the lowest reading

-- words: core/playbook/bind_step.c adjust_words
---@class (exact) halfsplit.AdjustStep: halfsplit.BenchStep
---@field cures? halfsplit.Id[] suspects that are in order afterwards, for a proof
---@field adjust halfsplit.Adjustment|string
---@field read? halfsplit.Reading|halfsplit.NamedReading[]
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction
---@field plausible? halfsplit.Limits
---@field responds? halfsplit.Quantity
---@field tries? integer
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch
---@field reuse? halfsplit.Id
---@field holds? halfsplit.Hold|halfsplit.Hold[]
---@field uses? halfsplit.Uses
---@field expect? halfsplit.Id|boolean|halfsplit.Expect limits from a line-up

-- words: core/playbook/bind_adjust.c watch_words
---@class (exact) halfsplit.Watch
---@field [1] string what is turned up
---@field read halfsplit.Reading|halfsplit.NamedReading[]
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction
---@field plausible? halfsplit.Limits
---@field tries? integer rounds

-- words: core/playbook/bind_step.c watch_words
---@class (exact) halfsplit.WatchStep: halfsplit.BenchStep
---@field watch halfsplit.Watch|string
---@field read? halfsplit.Reading|halfsplit.NamedReading[]
---@field limits? halfsplit.Limits|halfsplit.LimitsFunction
---@field plausible? halfsplit.Limits
---@field tries? integer
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch
---@field holds? halfsplit.Hold|halfsplit.Hold[]
---@field uses? halfsplit.Uses
---@field expect? halfsplit.Id|boolean|halfsplit.Expect limits from a line-up

-- words: core/playbook/bind_step.c collect_words
---@class (exact) halfsplit.CollectStep: halfsplit.BenchStep
---@field collect halfsplit.NamedReading[]
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch
---@field next? halfsplit.Branch
---@field reuse? halfsplit.Id
---@field holds? halfsplit.Hold|halfsplit.Hold[]
---@field decide? halfsplit.DecideFunction
---@field uses? halfsplit.Uses
---@field to? halfsplit.Branch|halfsplit.Branch[]

-- words: core/playbook/bind_step.c checklist_words
---@class (exact) halfsplit.ChecklistStep: halfsplit.BenchStep
---@field checklist string[][] rows of a name and a question
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch
---@field holds? halfsplit.Hold|halfsplit.Hold[]
---@field decide? halfsplit.DecideFunction
---@field uses? halfsplit.Uses
---@field to? halfsplit.Branch|halfsplit.Branch[]

-- words: core/playbook/bind_grid.c row_words
---@class (exact) halfsplit.GridRow
---@field [1] halfsplit.Id
---@field set? halfsplit.Settings
---@field through? halfsplit.Id[] suspects that the signal goes through in this row
---@field limits? halfsplit.Limits

-- words: core/playbook/bind_grid.c grid_words
---@class (exact) halfsplit.Grid
---@field columns halfsplit.Quantity[] frequencies
---@field rows halfsplit.GridRow[]
---@field read halfsplit.Reading
---@field limits? halfsplit.Limits
---@field against? halfsplit.Id the first row, as a reference
---@field plausible? halfsplit.Limits
---@field expect? halfsplit.Id|boolean|halfsplit.Expect limits of each cell from a line-up
---@field through? halfsplit.Id the line-up that tells what each row goes through

-- words: core/playbook/bind_step.c grid_words
---@class (exact) halfsplit.GridStep: halfsplit.BenchStep
---@field grid halfsplit.Grid
---@field low? halfsplit.Branch
---@field ok? halfsplit.Branch
---@field high? halfsplit.Branch
---@field unsure? halfsplit.Branch
---@field unread? halfsplit.Branch
---@field otherwise? halfsplit.Branch
---@field next? halfsplit.Branch
---@field holds? halfsplit.Hold|halfsplit.Hold[]
---@field decide? halfsplit.DecideFunction
---@field uses? halfsplit.Uses
---@field to? halfsplit.Branch|halfsplit.Branch[]

-- words: core/playbook/bind_step.c decide_words
---@class (exact) halfsplit.DecideStep: halfsplit.AnyStep
---@field decide halfsplit.DecideFunction
---@field uses? halfsplit.Uses
---@field to halfsplit.Branch|halfsplit.Branch[]
---@field most? integer
---@field beyond? halfsplit.Branch
---@field minutes? number

-- words: core/playbook/bind_step.c replace_words
---@class (exact) halfsplit.ReplaceStep: halfsplit.BenchStep
---@field replace string the part
---@field text? string how
---@field next halfsplit.Branch
---@field voids? halfsplit.Id[] only these readings are void
---@field cures? halfsplit.Id[] suspects that are in order afterwards, for a proof
---@field retest? halfsplit.Id[] steps to go through again before `next`

-- words: core/playbook/bind_step.c finding_words
---@class (exact) halfsplit.FindingStep: halfsplit.AnyStep
---@field finding string|halfsplit.Id[] the suspects, or a text
---@field suspects? halfsplit.Id[] beside a text; may be empty
---@field separated? boolean false for an honest short list
---@field proof? string
---@field not_tested? string
---@field advice? string

-- kinds: core/playbook/bind_step.c kinds
---@alias halfsplit.Step
---| halfsplit.TellStep
---| halfsplit.AdjustStep
---| halfsplit.WatchStep
---| halfsplit.ReadStep
---| halfsplit.ZeroStep
---| halfsplit.StraightStep
---| halfsplit.ProveStep
---| halfsplit.LookStep
---| halfsplit.CompareStep
---| halfsplit.ActStep
---| halfsplit.WaitStep
---| halfsplit.CollectStep
---| halfsplit.ChecklistStep
---| halfsplit.GridStep
---| halfsplit.DecideStep
---| halfsplit.ReplaceStep
---| halfsplit.FindingStep

---Declares a step. Its kind follows from the one key that names it.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Step)
---@overload fun(table: halfsplit.Step)
function step(id) end

-- ---- kit ----

-- words: core/playbook/bind_kit.c cable_words
---@class (exact) halfsplit.Cable
---@field [1]? halfsplit.Id
---@field title? string
---@field type? string a generic coax type; with `length`
---@field length? halfsplit.Quantity
---@field points? table<halfsplit.Quantity, halfsplit.Quantity> measured losses by frequency
---@field touchstone? string a file beside the kit
---@field u? halfsplit.Accuracy
---@field rated? halfsplit.Quantity
---@field to? halfsplit.Quantity the highest frequency
---@field serial? string
---@field ends? halfsplit.Ends

---@param id halfsplit.Id
---@return fun(table: halfsplit.Cable)
---@overload fun(table: halfsplit.Cable)
function cable(id) end

-- words: core/playbook/bind_kit.c pad_words
---A pad or an adapter.
---@class (exact) halfsplit.Pad
---@field [1]? halfsplit.Id
---@field title? string
---@field loss? halfsplit.Quantity the same at every frequency
---@field points? table<halfsplit.Quantity, halfsplit.Quantity>
---@field touchstone? string
---@field u? halfsplit.Accuracy
---@field rated? halfsplit.Quantity
---@field to? halfsplit.Quantity
---@field serial? string
---@field ends? halfsplit.Ends

---@param id halfsplit.Id
---@return fun(table: halfsplit.Pad)
---@overload fun(table: halfsplit.Pad)
function pad(id) end

---@param id halfsplit.Id
---@return fun(table: halfsplit.Pad)
---@overload fun(table: halfsplit.Pad)
function adapter(id) end

-- words: core/playbook/bind_kit.c probe_words
---@class (exact) halfsplit.Probe
---@field [1]? halfsplit.Id
---@field title? string
---@field ratio? number 10 for a ten-times probe
---@field touch? boolean held or clipped, not joined to a connector
---@field loss? halfsplit.Quantity
---@field u? halfsplit.Accuracy
---@field rated? halfsplit.Quantity
---@field to? halfsplit.Quantity
---@field serial? string
---@field ends? halfsplit.Ends

---@param id halfsplit.Id
---@return fun(table: halfsplit.Probe)
---@overload fun(table: halfsplit.Probe)
function probe(id) end

-- words: core/playbook/bind_kit.c lead_words
---@class (exact) halfsplit.Lead
---@field [1]? halfsplit.Id
---@field title? string
---@field u? halfsplit.Accuracy
---@field serial? string

---A test lead: it touches and takes nothing off.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Lead)
---@overload fun(table: halfsplit.Lead)
function lead(id) end

-- words: core/playbook/bind_kit.c range_words
---@class (exact) halfsplit.Range
---@field from? halfsplit.Quantity
---@field to? halfsplit.Quantity
---@field freq? halfsplit.Span
---@field u? halfsplit.Accuracy

-- words: core/playbook/bind_kit.c max_words
---What it stands at its input.
---@class (exact) halfsplit.Max
---@field rf? halfsplit.Quantity
---@field dc? halfsplit.Quantity

-- words: core/playbook/bind_kit.c instrument_words
---@class (exact) halfsplit.Instrument
---@field [1]? halfsplit.Id
---@field title? string
---@field reads? halfsplit.Measurand|halfsplit.Measurand[]|table<halfsplit.Measurand, halfsplit.Range>
---@field from? halfsplit.Quantity
---@field to? halfsplit.Quantity
---@field freq? halfsplit.Span
---@field u? halfsplit.Accuracy
---@field max? halfsplit.Max
---@field impedance? halfsplit.Quantity
---@field due? string calibration due: "2027-03-31"
---@field serial? string
---@field gives? halfsplit.Range it is a source
---@field connector? halfsplit.Connector at its input or output
---@field read? string|string[] a program of the shop's own that prints the reading, and its words

---@param id halfsplit.Id
---@return fun(table: halfsplit.Instrument)
---@overload fun(table: halfsplit.Instrument)
function instrument(id) end

---Parts from the unit to the instrument.
---@param name string
---@return fun(parts: string[])
---@overload fun(parts: string[])
function hookup(name) end

-- words: core/playbook/bind_kit_known.c known_words
---@class (exact) halfsplit.Known
---@field [1] string its id, or what is read on it
---@field [2]? halfsplit.Measurand
---@field title? string
---@field serial? string
---@field due? string
---@field level halfsplit.Quantity
---@field freq? halfsplit.Quantity
---@field u halfsplit.Accuracy how well it is known

---Something whose level the shop knows well, to show instruments good on.
---@param id halfsplit.Id
---@return fun(table: halfsplit.Known)
---@overload fun(table: halfsplit.Known)
function known(id) end

-- words: core/playbook/bind_kit_shop.c shop_words
---Limits tighter than the defaults; a looser one is refused.
---@class (exact) halfsplit.Shop
---@field dead? halfsplit.Quantity what a pair may read and count as dead; at most 5 V
---@field discharge? halfsplit.Quantity what a store may keep without being discharged; at most 0.25 J
---@field keep_shorted? halfsplit.Quantity what a store may hold without being kept shorted; at most 10 J
---@field lone? halfsplit.Quantity up to where one reads live alone; at most 90 V
---@field waits? string every computed wait is this much longer: "150 %"
---@field break_after? halfsplit.Quantity the longest break; at most 15 min
---@field touch? halfsplit.Quantity how warm a part may be in the hand; at most 45 degC
---@field lift? halfsplit.Quantity what one person lifts; at most 15 kg
---@field authorised? string|string[] who may authorise live work, or deal with what is unsafe
---@field seconds? string|string[] who may be the second person, or help

---What this shop tightens, and whom it names; once.
---@param table halfsplit.Shop
function shop(table) end

-- words: core/playbook/bind_role.c bind_words
---The playbooks it is for come first: ids, folders or families; none: all.
---@class (exact) halfsplit.Binding
---@field [integer]? string
---@field hookup string

---Fills a role of playbooks with a hookup of this kit.
---@param role string
---@return fun(table: halfsplit.Binding)
---@overload fun(table: halfsplit.Binding)
function bind(role) end

-- ---- the language ----

---Reads a file of this folder or of a library folder once, and gives back what it returns.
---@param name string
---@return any
function require(name) end

---A table of texts beside the playbook, a row for each line, by the names in its first line.
---@param file string
---@return table<string, string>[]
function chart(file) end

---@generic T
---@param value T
---@param message? any
---@return T
---@return any ...
function assert(value, message, ...) end

---@param message any
---@param level? integer
function error(message, level) end

---@param f function
---@return boolean
---@return any ...
function pcall(f, ...) end

---@param n integer|"#"
---@return any ...
function select(n, ...) end

---@param value any
---@param base? integer
---@return number?
function tonumber(value, base) end

---@param value any
---@return string
function tostring(value) end

---@param value any
---@return "nil"|"number"|"string"|"boolean"|"table"|"function"|"userdata"
function type(value) end

---@generic T: table
---@param table T
---@param metatable? table
---@return T
function setmetatable(table, metatable) end

---@param value any
---@return any
function getmetatable(value) end

---In the order of the keys.
---@generic K, V
---@param table table<K, V>
---@return fun(table: table<K, V>, key?: K): K, V
---@return table<K, V>
function pairs(table) end

---@generic V
---@param table V[]
---@return fun(table: V[], i?: integer): integer, V
---@return V[]
---@return integer
function ipairs(table) end

---@class mathlib
---@field pi number
---@field huge number
---@field maxinteger integer
---@field mininteger integer
math = {}

---@param x number
---@return number
function math.acos(x) end

---@param x number
---@return number
function math.asin(x) end

---@param x number
---@return number
function math.cos(x) end

---@param x number
---@return number
function math.exp(x) end

---@param x number
---@return number
function math.sin(x) end

---@param x number
---@return number
function math.sqrt(x) end

---@param x number
---@return number
function math.tan(x) end

---@param x number
---@return number
function math.abs(x) end

---@param y number
---@param x? number
---@return number
function math.atan(y, x) end

---@param x number
---@return integer
function math.ceil(x) end

---@param x number
---@return integer
function math.floor(x) end

---@param x number
---@param y number
---@return number
function math.fmod(x, y) end

---@param x number
---@param base? number
---@return number
function math.log(x, base) end

---@param x number
---@param ... number
---@return number
function math.max(x, ...) end

---@param x number
---@param ... number
---@return number
function math.min(x, ...) end

---@param x number
---@return number
---@return number
function math.modf(x) end

---@param x any
---@return integer?
function math.tointeger(x) end

---@param x any
---@return "integer"|"float"|nil
function math.type(x) end

---@class stringlib
string = {}

---@param text string
---@param from? integer
---@param to? integer
---@return integer ...
function string.byte(text, from, to) end

---@param ... integer
---@return string
function string.char(...) end

---Plain text; there are no patterns.
---@param text string
---@param wanted string
---@param from? integer
---@param plain? boolean
---@return integer?
---@return integer?
function string.find(text, wanted, from, plain) end

---@param format string
---@param ... any
---@return string
function string.format(format, ...) end

---@param text string
---@return integer
function string.len(text) end

---@param text string
---@return string
function string.lower(text) end

---@param text string
---@param count integer
---@param between? string
---@return string
function string.rep(text, count, between) end

---@param text string
---@return string
function string.reverse(text) end

---The pieces between the marks.
---@param text string
---@param mark string
---@return string[]
function string.split(text, mark) end

---@param text string
---@param from integer
---@param to? integer
---@return string
function string.sub(text, from, to) end

---Without blanks at both ends.
---@param text string
---@return string
function string.trim(text) end

---@param text string
---@return string
function string.upper(text) end

---@class tablelib
table = {}

---@param list any[]
---@param between? string
---@param from? integer
---@param to? integer
---@return string
function table.concat(list, between, from, to) end

---@overload fun(list: any[], value: any)
---@param list any[]
---@param at integer
---@param value any
function table.insert(list, at, value) end

---@param list any[]
---@param at? integer
---@return any
function table.remove(list, at) end

---Stable.
---@param list any[]
---@param before? fun(a: any, b: any): boolean
function table.sort(list, before) end

---@param list any[]
---@param from? integer
---@param to? integer
---@return any ...
function table.unpack(list, from, to) end

-- ---- the measurement library; docs/mathematics.md tells what each computes ----

---A text with its unit, or a number in the unit the function names.
---@alias halfsplit.Value number|string

---@class halfsplit.Complex
---@field re number
---@field im number

---"sine", "square", "triangle", { "pulse", duty = 0.1 } or { "noise", sigmas = 3 }.
---@alias halfsplit.Wave "sine"|"square"|"triangle"|table

-- words: core/lineup/noise.c names
---@alias halfsplit.Detector "rms"|"log average"|"voltage average"

-- words: core/playbook/bind_measure_uncertainty.c shape_names
---@alias halfsplit.Shape "rectangular"|"triangular"|"U-shaped"|"expanded"|"standard"

-- words: core/playbook/bind_measure_cascade.c stage_words
---A gain with its noise figure, or a loss.
---@class (exact) halfsplit.Stage
---@field name? string
---@field gain? halfsplit.Value
---@field nf? halfsplit.Value
---@field p1db? halfsplit.Value at its output
---@field oip3? halfsplit.Value
---@field loss? halfsplit.Value
---@field kelvin? halfsplit.Value

-- words: core/playbook/bind_measure_coax.c law_words
---What coax.law and coax.fit give.
---@class (exact) halfsplit.Law
---@field k1 number dB per metre, f in Hz
---@field k2 number
---@field from_hz? number
---@field to_hz? number
---@field u_k1? number
---@field u_k2? number
---@field rms_db? number
---@field worst_db? number
---@field worst? integer
---@field held_at_zero? boolean
---@field residuals? number[]

-- words: core/playbook/bind_measure_coax.c run_words
---A length of cable with its circumstances.
---@class (exact) halfsplit.Run
---@field length halfsplit.Value
---@field celsius? halfsplit.Value
---@field connectors? integer
---@field connector_db? halfsplit.Value

-- words: core/playbook/bind_measure_uncertainty.c term_words
---@class (exact) halfsplit.Term
---@field [1] string its name
---@field value? halfsplit.Value
---@field half_width? halfsplit.Value
---@field shape? halfsplit.Shape
---@field divisor? number
---@field sensitivity? number
---@field dof? number
---@field type_a? boolean

-- words: core/playbook/bind_measure_uncertainty.c budget_words
---@class (exact) halfsplit.Budget
---@field [integer] halfsplit.Term
---@field result? halfsplit.Value
---@field correlations? number[][] rows of two terms and their correlation

---Gives the number and the name of its unit; UNIT is what a number without one takes.
---@param text string
---@param unit? string
---@return number
---@return string unit
function quantity(text, unit) end

---Gives a text for people, with a prefix: "2.2 kohm".
---@param number number
---@param unit string
---@param decimals? integer
---@return string
function show(number, unit, decimals) end

cascade = {}

---Gives ratio.
---@param stage halfsplit.Stage
---@return number
function cascade.factor(stage) end

---Gives Hz.
---@param freq halfsplit.Value
---@param number number
---@return number
function cascade.harmonic(freq, number) end

---Gives first and last number; nothing when there is none.
---@param freq halfsplit.Value
---@param from halfsplit.Value
---@param to halfsplit.Value
---@return integer? first
---@return integer? last
function cascade.harmonics_within(freq, from, to) end

---Gives dBm.
---@param tone halfsplit.Value
---@param oip3 halfsplit.Value
---@return number
function cascade.im3(tone, oip3) end

---Gives for each stage name linear_dbm level_dbm headroom_db noise_dbm_hz nf_db, with a bandwidth noise_dbm snr_db, and where something limits it limit (compressed, upstream or noise) limited_by.
---@param stages halfsplit.Stage[]
---@param input halfsplit.Value
---@param bandwidth? halfsplit.Value
---@return table<string, any>[]
function cascade.levels(stages, input, bandwidth) end

---Gives if_hz high_side inverted image_hz; the difference unless it says sum.
---@param signal halfsplit.Value
---@param oscillator halfsplit.Value
---@param kind? "sum"
---@return { if_hz: number, high_side: boolean, inverted: boolean, image_hz: number }
function cascade.mix(signal, oscillator, kind) end

---Gives dB.
---@param kelvin halfsplit.Value
---@return number
function cascade.nf_of_temperature(kelvin) end

---Gives dB.
---@param enr halfsplit.Value
---@param y halfsplit.Value
---@return number
function cascade.nf_of_y(enr, y) end

---Gives Hz.
---@param signal halfsplit.Value
---@param intermediate halfsplit.Value
---@param side "high"|"low"
---@return number
function cascade.oscillator(signal, intermediate, side) end

---Gives a list as cascade.spurs does, of inputs.
---@param oscillator halfsplit.Value
---@param intermediate halfsplit.Value
---@param order integer
---@param from halfsplit.Value
---@param to halfsplit.Value
---@return table<string, any>[]
function cascade.spur_inputs(oscillator, intermediate, order, from, to) end

---Gives dB.
---@param oip3 halfsplit.Value
---@param floor halfsplit.Value
---@return number
function cascade.spurious_free_range(oip3, floor) end

---Gives a list of m n order freq_hz in_band wanted.
---@param signal halfsplit.Value
---@param oscillator halfsplit.Value
---@param order integer
---@param from halfsplit.Value
---@param to halfsplit.Value
---@return table<string, any>[]
function cascade.spurs(signal, oscillator, order, from, to) end

---Gives kelvin.
---@param nf halfsplit.Value
---@return number
function cascade.temperature_of_nf(nf) end

---Gives what cascade.levels gives, as a text.
---@param stages halfsplit.Stage[]
---@param input halfsplit.Value
---@param bandwidth? halfsplit.Value
---@return string
function cascade.text(stages, input, bandwidth) end

---Gives gain_db factor nf_db kelvin, and where stated op1db_dbm ip1db_dbm, oip3_dbm iip3_dbm oip3_random_dbm.
---@param stages halfsplit.Stage[]
---@return table<string, number>
function cascade.total(stages) end

coax = {}

---Gives a law: k1 k2 from_hz to_hz, with u_k1 u_k2 rms_db worst_db worst held_at_zero residuals.
---@param points halfsplit.Value[][]
---@param length? halfsplit.Value|halfsplit.Run
---@return halfsplit.Law
function coax.fit(points, length) end

---Gives k1 k2, dB per metre, f in Hz.
---@param k1 halfsplit.Value
---@param k2 halfsplit.Value
---@param length? halfsplit.Value|halfsplit.Run
---@return halfsplit.Law
function coax.law(k1, k2, length) end

---Gives dB.
---@param law halfsplit.Law
---@param freq halfsplit.Value
---@param length halfsplit.Value|halfsplit.Run
---@return number
function coax.law_loss(law, freq, length) end

---Gives the points in order, without doubles.
---@param points halfsplit.Value[][]
---@return number[][]
function coax.table(points) end

---Gives dB.
---@param points halfsplit.Value[][]
---@param freq halfsplit.Value
---@param length halfsplit.Value|halfsplit.Run
---@param table_length? halfsplit.Value
---@param law? halfsplit.Law
---@return number
function coax.table_loss(points, freq, length, table_length, law) end

---Gives dB, nominal.
---@param type string
---@param freq halfsplit.Value
---@param length halfsplit.Value|halfsplit.Run
---@param law? halfsplit.Law
---@return number
function coax.type_loss(type, freq, length, law) end

---Gives a list of names.
---@return string[]
function coax.types() end

level = {}

---Gives the sum of powers, in UNIT or in the unit of the first.
---@param levels halfsplit.Value[]
---@param unit? string
---@param ohm? halfsplit.Value
---@return number
function level.add(levels, unit, ohm) end

---Gives the sum of tones, and its degrees.
---@param tones halfsplit.Value[][]
---@param unit? string
---@param ohm? halfsplit.Value
---@return number
---@return number degrees
function level.add_coherent(tones, unit, ohm) end

---Gives dBm.
---@param emf halfsplit.Value
---@param source_ohm halfsplit.Value
---@return number
function level.available_power(emf, source_ohm) end

---Gives a number in UNIT.
---@param level halfsplit.Value
---@param unit string
---@param ohm? halfsplit.Value
---@param wave? halfsplit.Wave
---@return number
function level.convert(level, unit, ohm, wave) end

---Gives ratio.
---@param wave halfsplit.Wave
---@return number
function level.crest(wave) end

---Gives dB.
---@param wave halfsplit.Wave
---@return number
function level.crest_db(wave) end

---Gives dBm/Hz.
---@param level halfsplit.Value
---@param bandwidth halfsplit.Value
---@return number
function level.density(level, bandwidth) end

---Gives its unit.
---@param voltage halfsplit.Value
---@return number
function level.emf_of_pd(voltage) end

---Gives ratio.
---@param wave halfsplit.Wave
---@return number
function level.form(wave) end

---Gives its unit.
---@param carrier halfsplit.Value
---@param db halfsplit.Value
---@return number
function level.from_over(carrier, db) end

---Gives its unit.
---@param level halfsplit.Value
---@param from_bandwidth halfsplit.Value
---@param to_bandwidth halfsplit.Value
---@return number
function level.in_bandwidth(level, from_bandwidth, to_bandwidth) end

---Gives the mean of powers, in UNIT or in the unit of the first.
---@param levels halfsplit.Value[]
---@param unit? string
---@param ohm? halfsplit.Value
---@return number
function level.mean(levels, unit, ohm) end

---Gives dBm; the density also as "-150 dBm/Hz".
---@param dbm_per_hz halfsplit.Value
---@param bandwidth halfsplit.Value
---@return number
function level.of_density(dbm_per_hz, bandwidth) end

---Gives dB (dBc).
---@param level halfsplit.Value
---@param carrier halfsplit.Value
---@param ohm? halfsplit.Value
---@return number
function level.over(level, carrier, ohm) end

---Gives its unit.
---@param emf halfsplit.Value
---@param source_ohm halfsplit.Value
---@param load_ohm halfsplit.Value
---@return number
function level.pd_into(emf, source_ohm, load_ohm) end

---Gives its unit.
---@param emf halfsplit.Value
---@return number
function level.pd_of_emf(emf) end

---Gives its unit.
---@param average halfsplit.Value
---@param duty halfsplit.Value
---@return number
function level.pulse_power(average, duty) end

---Gives its unit.
---@param level halfsplit.Value
---@param db halfsplit.Value
---@return number
function level.shift(level, db) end

---Gives what is left, in UNIT or in the unit of the total.
---@param total halfsplit.Value
---@param part halfsplit.Value
---@param unit? string
---@param ohm? halfsplit.Value
---@return number
function level.subtract(total, part, unit, ohm) end

meter = {}

---Gives %.
---@param wave halfsplit.Wave
---@return number
function meter.average_responding_percent(wave) end

---Gives %.
---@param loop_ohm halfsplit.Value
---@param burden_ohm halfsplit.Value
---@return number
function meter.burden_percent(loop_ohm, burden_ohm) end

---Gives true, or the error that says why not.
---@param wave halfsplit.Wave
---@param reading halfsplit.Value
---@param full_scale halfsplit.Value
---@param crest_factor number
---@return true
function meter.crest_fits(wave, reading, full_scale, crest_factor) end

---Gives ratio.
---@param upper_ohm halfsplit.Value
---@param lower_ohm halfsplit.Value
---@return number
function meter.divider_ratio(upper_ohm, lower_ohm) end

---Gives ohm.
---@param upper_ohm halfsplit.Value
---@param lower_ohm halfsplit.Value
---@return number
function meter.divider_source(upper_ohm, lower_ohm) end

---Gives its unit.
---@param reading halfsplit.Value
---@param percent halfsplit.Value
---@param digits number
---@param step halfsplit.Value
---@return number
function meter.half_width(reading, percent, digits, step) end

---Gives %.
---@param source_ohm halfsplit.Value
---@param meter_ohm halfsplit.Value
---@return number
function meter.loading_percent(source_ohm, meter_ohm) end

---Gives %.
---@param wave halfsplit.Wave
---@return number
function meter.peak_responding_percent(wave) end

---Gives magnitude_ohm reactance_ohm capacitance_rules percent degrees corner_hz.
---@param probe_ohm halfsplit.Value
---@param farad halfsplit.Value
---@param source_ohm halfsplit.Value
---@param freq halfsplit.Value
---@return table<string, any>
function meter.probe(probe_ohm, farad, source_ohm, freq) end

---Gives its unit.
---@param step halfsplit.Value
---@return number
function meter.resolution_standard(step) end

---Gives its unit.
---@param reading halfsplit.Value
---@param wave halfsplit.Wave
---@return number
function meter.true_rms(reading, wave) end

---Gives ohm, and its half-width.
---@param reading halfsplit.Value
---@param leads_ohm halfsplit.Value
---@param doubt_ohm? halfsplit.Value
---@return number
---@return number half_width
function meter.two_wire(reading, leads_ohm, doubt_ohm) end

---Gives true, or the error that says why not.
---@param nominal halfsplit.Value
---@param tolerance_percent halfsplit.Value
---@param doubt_ohm halfsplit.Value
---@return true
function meter.two_wire_decides(nominal, tolerance_percent, doubt_ohm) end

---Gives its unit.
---@param reading halfsplit.Value
---@param source_ohm halfsplit.Value
---@param meter_ohm halfsplit.Value
---@return number
function meter.unloaded(reading, source_ohm, meter_ohm) end

network = {}

---Gives dB.
---@param net halfsplit.Network
---@param to integer
---@param from integer
---@param freq halfsplit.Value
---@return number
function network.db(net, to, from, freq) end

---Gives the number of the point, from 1.
---@param net halfsplit.Network
---@param freq halfsplit.Value
---@return integer
function network.find(net, freq) end

---Gives a list of Hz.
---@param net halfsplit.Network
---@return number[]
function network.freqs(net) end

---Gives version kind ports points from_hz to_hz, and where there are remark remark_line modes.
---@param net halfsplit.Network
---@return table<string, any>
function network.info(net) end

---Gives dB, between points linear in √f; from port 1 to 2 unless it says otherwise.
---@param net halfsplit.Network
---@param freq halfsplit.Value
---@param to? integer
---@param from? integer
---@return number
function network.loss(net, freq, to, from) end

---Gives a list of freq_hz nf_min_db rho_best degrees_best rn_ohm.
---@param net halfsplit.Network
---@return table<string, number>[]
function network.noise(net) end

---Gives the network.
---@param file string
---@param ports? integer
---@return halfsplit.Network
function network.open(file, ports) end

---Gives ohm; port 1 when it is left out.
---@param net halfsplit.Network
---@param port? integer
---@return number
function network.reference(net, port) end

---Gives complex.
---@param net halfsplit.Network
---@param to integer
---@param from integer
---@param freq halfsplit.Value
---@return halfsplit.Complex
function network.value(net, to, from, freq) end

noise = {}

---Gives ratio; 0 poles for a Gaussian filter.
---@param poles integer
---@return number
function noise.bandwidth_ratio(poles) end

---Gives dBm/Hz.
---@param displayed halfsplit.Value
---@param detector halfsplit.Detector
---@param rbw halfsplit.Value
---@param bandwidth_ratio halfsplit.Value
---@return number
function noise.density(displayed, detector, rbw, bandwidth_ratio) end

---Gives dB.
---@param detector halfsplit.Detector
---@return number
function noise.detector_correction(detector) end

---Gives dBm.
---@param bandwidth halfsplit.Value
---@param noise_figure? halfsplit.Value
---@param kelvin? halfsplit.Value
---@return number
function noise.floor(bandwidth, noise_figure, kelvin) end

---Gives V.
---@param ohm halfsplit.Value
---@param bandwidth halfsplit.Value
---@param kelvin? halfsplit.Value
---@return number
function noise.resistor(ohm, bandwidth, kelvin) end

---Gives dBm, and the correction in dB.
---@param reading halfsplit.Value
---@param noise halfsplit.Value
---@return number
---@return number correction
function noise.signal(reading, noise) end

reflection = {}

---Gives its unit.
---@param forward halfsplit.Value
---@param rho halfsplit.Value
---@return number
function reflection.delivered_power(forward, rho) end

---Gives complex.
---@param impedance halfsplit.Complex|number[]|number
---@param reference_ohm halfsplit.Value
---@return halfsplit.Complex
function reflection.gamma_of_impedance(impedance, reference_ohm) end

---Gives complex.
---@param rho halfsplit.Value
---@param degrees number
---@return halfsplit.Complex
function reflection.gamma_of_polar(rho, degrees) end

---Gives complex.
---@param gamma halfsplit.Complex|number[]|number
---@param loss halfsplit.Value
---@param degrees number
---@return halfsplit.Complex
function reflection.gamma_through(gamma, loss, degrees) end

---Gives complex, ohm.
---@param gamma halfsplit.Complex|number[]|number
---@param reference_ohm halfsplit.Value
---@return halfsplit.Complex
function reflection.impedance_of_gamma(gamma, reference_ohm) end

---Gives dB.
---@param return_loss halfsplit.Value
---@return number
function reflection.loss_of_open_end(return_loss) end

---Gives lower and upper limit, dB.
---@param source_rho halfsplit.Value
---@param load_rho halfsplit.Value
---@return number lower
---@return number upper
function reflection.mismatch_limits(source_rho, load_rho) end

---Gives dB.
---@param rho halfsplit.Value
---@return number
function reflection.mismatch_loss_of_rho(rho) end

---Gives relative, of power.
---@param source_rho halfsplit.Value
---@param load_rho halfsplit.Value
---@param magnitudes "known"|"bounded"
---@return number
function reflection.mismatch_standard(source_rho, load_rho, magnitudes) end

---Gives RHO and degrees.
---@param gamma halfsplit.Complex|number[]|number
---@return number rho
---@return number degrees
function reflection.polar_of_gamma(gamma) end

---Gives lower and upper limit, dB.
---@param relative halfsplit.Value
---@return number lower
---@return number upper
function reflection.power_ratio_db(relative) end

---Gives dB.
---@param return_loss halfsplit.Value
---@param loss halfsplit.Value
---@return number
function reflection.return_loss_before(return_loss, loss) end

---Gives dB.
---@param measured halfsplit.Value
---@param loss halfsplit.Value
---@return number
function reflection.return_loss_beyond(measured, loss) end

---Gives lower and upper bound, dB.
---@param return_loss halfsplit.Value
---@param directivity halfsplit.Value
---@return number lower
---@return number upper
function reflection.return_loss_bounds(return_loss, directivity) end

---Gives dB.
---@param rho halfsplit.Value
---@return number
function reflection.return_loss_of_rho(rho) end

---Gives dB.
---@param swr halfsplit.Value
---@return number
function reflection.return_loss_of_swr(swr) end

---Gives RHO.
---@param mismatch_loss halfsplit.Value
---@return number
function reflection.rho_of_mismatch_loss(mismatch_loss) end

---Gives RHO; LOSS is 0 dB when it is left out.
---@param forward halfsplit.Value
---@param reflected halfsplit.Value
---@param loss? halfsplit.Value
---@return number
function reflection.rho_of_powers(forward, reflected, loss) end

---Gives RHO.
---@param return_loss halfsplit.Value
---@return number
function reflection.rho_of_return_loss(return_loss) end

---Gives RHO.
---@param swr halfsplit.Value
---@return number
function reflection.rho_of_swr(swr) end

---Gives SWR.
---@param return_loss halfsplit.Value
---@return number
function reflection.swr_of_return_loss(return_loss) end

---Gives SWR.
---@param rho halfsplit.Value
---@return number
function reflection.swr_of_rho(rho) end

uncertainty = {}

---Gives standard dof coverage expanded contributions.
---@param budget halfsplit.Budget
---@return table<string, any>
function uncertainty.combine(budget) end

---Gives -1 to 1.
---@param a halfsplit.Value[]
---@param b halfsplit.Value[]
---@return number
function uncertainty.correlation(a, b) end

---Gives statement (pass, conditional pass, conditional fail or fail), conform, false_accept, false_reject, guard; U is standard.
---@param limits string
---@param value halfsplit.Value
---@param u halfsplit.Value
---@param rule? "simple"|"guarded"|"four-way"
---@param factor? number
---@return table<string, any>
function uncertainty.decide(limits, value, u, rule, factor) end

---Gives ratio.
---@param shape halfsplit.Shape
---@return number
function uncertainty.divisor(shape) end

---Gives degrees of freedom.
---@param relative halfsplit.Value
---@return number
function uncertainty.dof_of_doubt(relative) end

---Gives probability.
---@param guard halfsplit.Value
---@param u halfsplit.Value
---@return number
function uncertainty.false_accept_most(guard, u) end

---Gives in the unit of U.
---@param probability halfsplit.Value
---@param u halfsplit.Value
---@return number
function uncertainty.guard_for(probability, u) end

---Gives result per unit of X; FUNCTION gets the list.
---@param f fun(x: number[]): number
---@param x number[]
---@param which integer
---@param step halfsplit.Value
---@return number
function uncertainty.sensitivity(f, x, which, step) end

---Gives probability.
---@param t number
---@param dof? number
---@return number
function uncertainty.student_coverage(t, dof) end

---Gives t.
---@param probability halfsplit.Value
---@param dof? number
---@return number
function uncertainty.student_factor(probability, dof) end

---Gives the budget as a text.
---@param budget halfsplit.Budget
---@return string
function uncertainty.text(budget) end

---Gives mean deviation standard dof.
---@param readings halfsplit.Value[]
---@return { mean: number, deviation: number, standard: number, dof: number }
function uncertainty.type_a(readings) end

---Gives degrees of freedom.
---@param u halfsplit.Value[]
---@param dof number[]
---@return number
function uncertainty.welch_satterthwaite(u, dof) end

---What network.open gives; net:loss(FREQ) is network.loss(net, FREQ).
---@class halfsplit.Network
local Network = {}

---@param to integer
---@param from integer
---@param freq halfsplit.Value
---@return number
function Network:db(to, from, freq) end

---@param freq halfsplit.Value
---@return integer
function Network:find(freq) end

---@return number[]
function Network:freqs() end

---@return table<string, any>
function Network:info() end

---@param freq halfsplit.Value
---@param to? integer
---@param from? integer
---@return number
function Network:loss(freq, to, from) end

---@return table<string, number>[]
function Network:noise() end

---@param port? integer
---@return number
function Network:reference(port) end

---@param to integer
---@param from integer
---@param freq halfsplit.Value
---@return halfsplit.Complex
function Network:value(to, from, freq) end
