// Runs a controller's program under the real MicroPython with a stand-in for its pins and its clock.
// Standard input: {"program", "until_ms", "start_ms", "late_ms", "button": [[ms, level]]}; standard output: {"log": [[ms, pin, duty]], "printed", "hz"}.
import { readFileSync } from "node:fs";
import { loadMicroPython } from "../vendor/micropython/micropython.mjs";

const asked = JSON.parse(readFileSync(0, "utf8"));
const printed = [];
const board = await loadMicroPython({ stdout: line => printed.push(line), linebuffer: true, heapsize: 4 * 1024 * 1024 });
board.globals.set("program", asked.program);
board.globals.set("until_ms", asked.until_ms);
board.globals.set("start_ms", asked.start_ms);
board.globals.set("late_ms", asked.late_ms);
board.globals.set("button_json", JSON.stringify(asked.button || []));
board.runPython(`
import sys
import time as real

class Over(Exception):
    pass

class Clock:
    "Real time's arithmetic on a clock that only sleeping moves, a little late each time as a busy board is."
    def __init__(self):
        self.passed, self.seed = 0, 1
    def ticks_ms(self):
        return (start_ms + self.passed) % (1 << 30)
    def ticks_diff(self, a, b):
        return real.ticks_diff(a, b)
    def sleep_ms(self, ms):
        self.seed = (self.seed * 1103 + 12345) % 32768
        self.passed += ms + (self.seed % (late_ms + 1))
        if self.passed > until_ms:
            raise Over

clock = Clock()
log = []
hz = []

import json
button_levels = json.loads(button_json)
pulls = []

class Pin:
    IN, PULL_UP = 0, 1
    def __init__(self, number, mode=None, pull=None):
        self.number, self.next, self.level = number, 0, 1
        if mode is not None:
            pulls.append([number, mode, pull])
    def value(self):
        "What the button's contact has made of the pin by now: pulled up until it closes."
        while self.next < len(button_levels) and button_levels[self.next][0] <= clock.passed:
            self.level = button_levels[self.next][1]
            self.next += 1
        return self.level

class PWM:
    def __init__(self, pin):
        self.pin = pin
    def freq(self, hertz):
        hz.append(hertz)
    def duty_u16(self, duty):
        log.append((clock.passed, self.pin.number, duty))

class Machine:
    pass

machine = Machine()
machine.Pin, machine.PWM = Pin, PWM
sys.modules["machine"], sys.modules["time"] = machine, clock
try:
    exec(program, {"__name__": "__main__"})
except Over:
    pass
result = json.dumps({"log": log, "hz": hz, "pulls": pulls})
`);
const result = JSON.parse(board.globals.get("result"));
console.log(JSON.stringify({ ...result, printed }));
