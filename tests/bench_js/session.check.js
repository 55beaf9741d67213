(function () {
  "use strict";
  const off = (page) => page.state().off.map((each) => [each.key, each.count, each.back]);
  const codes = (page) => page.notices.map((each) => each.code);

  check("a page that nobody touched writes no sheet", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    same([...tablet.shelf.held.keys()].filter((key) => key.includes("|sheet|")), []);
    const { done, of, next, closed, kept, off } = page.state();
    same({ done, of, next, closed, kept, off }, { done: 0, of: 6, next: "k1", closed: false, kept: "yes", off: [] });
  });

  check("what is off follows the ticks, and where it goes back", function () {
    const page = new Tablet().open();
    page.choose("cooling", "raw");
    page.tick("k1", true);
    same(off(page), [["screws", 2, "k7"]]);
    page.tick("k2", true);
    page.tick("k3", true);
    same(off(page), [["screws", 2, "k7"], ["cover", 1, "k6"], ["filter", 1, "k5"]]);
    same(page.state().goesBack, 4);
    page.tick("k3", false);
    same(off(page), [["screws", 2, "k7"], ["cover", 1, "k6"]]);
  });

  check("another variant has other steps", function () {
    const page = new Tablet().open();
    const here = (key) => [page.state().steps[key].here, page.state().steps[key].why];
    same(here("k3"), ["perhaps", "option"]);
    same(page.state().decided, false);
    page.choose("cooling", "fresh");
    same(here("k3"), ["no", "variant"]);
    same([page.state().of, page.state().decided], [6, true]);
    same([page.state().lines[3], page.state().sections, page.state().listed.tools], ["no", ["yes", "yes"], ["yes", "no"]]);
    page.choose("cooling", "raw");
    same(here("k3"), ["yes", null]);
    same(page.state().of, 8);
  });

  check("with an open option, what may be off says that it may", function () {
    const page = new Tablet().open();
    page.tick("k3", true);
    same(page.state().off.map((each) => [each.key, each.may]), [["filter", true]]);
  });

  check("a choice holds for all jobs of the guide, and can be taken back", function () {
    const tablet = new Tablet();
    tablet.open().choose("cooling", "fresh");
    const other = tablet.open(Object.assign(example(), { job: "another" }));
    same(other.state().options, [{ key: "cooling", choice: "fresh", possible: [true, true] }]);
    other.choose("cooling", null);
    same(tablet.open().state().options[0].choice, null);
    other.choose("cooling", "steam");
    other.choose("colour", "red");
    same(other.state().options[0].choice, null);
  });

  check("a sheet for a machine of its own leaves the others alone", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.choose("cooling", "fresh");
    page.ownMachine(true);
    page.choose("cooling", "raw");
    same(page.state().options[0].choice, "raw");
    same(tablet.open(Object.assign(example(), { job: "another" })).state().options[0].choice, "fresh");
    page.ownMachine(false);
    same(page.state().options[0].choice, "fresh");
  });

  check("a reading within its limit closes the branch, and one outside opens it", function () {
    const page = new Tablet().open();
    const branch = () => [page.state().steps.k4a.here, page.state().steps.k4a.why];
    same(branch(), ["perhaps", "answer"]);
    same(page.read("k4", 0, "0,25"), { is: "good", value: 0.25, unit: "mm", branch: null });
    same(branch(), ["no", "branch"]);
    same(page.read("k4", 0, "0.4").branch, 0);
    same(branch(), ["yes", null]);
    same(page.state().steps.k4.answers, [{ box: null, branches: [0], byReading: true }]);
    same(page.read("k4", 0, "0.010", "in").is, "good");
    same(branch(), ["no", "branch"]);
    page.read("k4", 0, "many");
    same([page.state().steps.k4.readings[0].is, ...branch()], ["garbage", "perhaps", "answer"]);
    page.read("k4", 0, "");
    same(page.state().steps.k4.readings, [{ text: "", is: "empty", value: null, unit: "mm", branch: null, worked: null }]);
  });

  check("buttons answer what no reading tells", function () {
    const page = new Tablet().open();
    page.answer("k4", 0);
    same(page.state().steps.k4a.here, "yes");
    page.answer("k4", "good");
    same(page.state().steps.k4a.here, "no");
    page.answer("k4", null);
    same(page.state().steps.k4a.here, "perhaps");
    page.answer("k4", 7);
    page.answer("k1", 0);
    same(page.state().steps.k4.answers, [{ box: null, branches: null, byReading: false }]);
    page.answer("k4", "good");
    page.read("k4", 0, "0.4");
    same(page.state().steps.k4.answers, [{ box: null, branches: [0], byReading: true }]);
  });

  check("a difference is worked out of its readings, and judged", function () {
    const job = example();
    const reading = { role: "reading", units: [{ unit: "mm", limit: null }] };
    const worked = { role: "worked", of: "difference", units: [{ unit: "mm", limit: [null, 0.1, false, false] }] };
    job.steps[3].blanks = [reading, reading, worked];
    const page = new Tablet().open(job);
    page.read("k4", 0, "0,3");
    same(page.state().steps.k4.readings[2].worked, null);
    page.read("k4", 1, "0.2");
    const { worked: value, is, text } = page.state().steps.k4.readings[2];
    same([value, is, text, page.state().steps.k4a.here], [0.1, "good", "", "no"]);
    page.read("k4", 0, "0.31");
    same([page.state().steps.k4.readings[2].is, page.state().steps.k4a.here], ["high", "yes"]);
    page.read("k4", 2, "0.05");
    same([page.state().steps.k4.readings[2].value, page.state().steps.k4a.here], [0.05, "no"]);
    for (const [of, found] of [["largest", 0.31], ["smallest", 0.2], ["average", 0.255], ["other", null]]) {
      worked.of = of;
      page.read("k4", 2, "");
      same(page.state().steps.k4.readings[2].worked, found, of);
    }
  });

  check("of outcomes, the values tell which one it is", function () {
    const job = example();
    job.steps[3].branches = [{ words: "a" }, { words: "b" }, { words: "c" }];
    job.steps[3].blanks[0].units = [{ unit: "mm", limit: [0.2, 0.3, false, false], branches: [[null, 0.2, false, true], [0.3, 0.5, true, false], null] }];
    job.questions.push({ step: 3, branch: 1, box: null }, { step: 3, branch: 2, box: null });
    const page = new Tablet().open(job);
    const told = (text) => [page.read("k4", 0, text).branch, page.state().steps.k4.answers[0].branches];
    same([told("0.1"), told("0.4"), told("0.3"), told("0.9")], [[0, [0]], [1, [1]], [null, []], [null, null]]);
    page.answer("k4", 2);
    same(page.state().steps.k4.answers[0].branches, [2]);
  });

  check("of outcomes that can be together, several are open", function () {
    const job = example();
    job.steps[3].branches = [{ words: "a", each: true }, { words: "b", each: true }];
    job.steps[3].blanks = [];
    job.steps[5].up = [3, 1];
    job.questions.push({ step: 3, branch: 1, box: null });
    const page = new Tablet().open(job);
    const answers = () => page.state().steps.k4.answers[0].branches;
    page.answer("k4", 1);
    page.answer("k4", 0);
    same([answers(), page.state().steps.k4a.here, page.state().steps.k4b.here], [[1, 0], "yes", "yes"]);
    page.answer("k4", 1);
    same([answers(), page.state().steps.k4b.here], [[0], "no"]);
    page.answer("k4", "good");
    same(answers(), []);
  });

  check("each place is asked for itself, and its branch is done there", function () {
    const job = example();
    job.steps[3] = { ...job.steps[3], boxes: ["left", "right"], blanks: [], branches: [{ words: "If not:" }] };
    job.steps[4] = { ...job.steps[4], boxes: ["left", "right"] };
    job.steps.splice(5, 1);
    for (const step of job.steps) delete step.to;
    job.steps.forEach((step) => (step.kind = step.kind === "back" ? "tick" : step.kind));
    job.moments = [[0], [1], [2], [3, 0], [4, 0], [3, 1], [4, 1], [5], [6], [7, 0], [7, 1], [8]];
    job.questions = [{ step: 3, branch: 0, box: 0 }, { step: 3, branch: 0, box: 1 }];
    [job.things, job.counts, job.back] = [[], [], []];
    const page = new Tablet().open(job);
    page.answer("k4", 0, 1);
    same(page.state().steps.k4.answers, [{ box: 0, branches: null, byReading: false }, { box: 1, branches: [0], byReading: false }]);
    same([page.state().steps.k4a.here, page.state().steps.k4a.boxesHere], ["yes", ["perhaps", "yes"]]);
    page.answer("k4", "good", 0);
    same(page.state().steps.k4a.boxesHere, ["no", "yes"]);
    page.tick("k4", true);
    same([page.state().next, page.state().nextBox], ["k4a", 1]);
    page.tick("k4a", true);
    same([page.state().steps.k4a.boxes, page.state().steps.k4a.ticked], [[false, true], true]);
    page.answer("k4", null, 0);
    page.box("k4", 0, false);
    page.box("k4a", 0, true);
    same(page.state().steps.k4.answers[0].branches, [0]);
  });

  check("a step that ends the job there takes all after it off the way", function () {
    const job = example();
    job.steps[4].kind = "stop";
    const page = new Tablet().open(job);
    page.answer("k4", 0);
    same(["k4a", "k4b", "k6", "kF1"].map((key) => [page.state().steps[key].here, page.state().steps[key].why]),
      [["yes", null], ["no", "stopped"], ["no", "stopped"], ["yes", null]]); // prettier-ignore
    same(page.notices, [{ code: "stop", step: "k4a" }]);
    page.answer("k4", "good");
    same(page.state().steps.k6.here, "yes");
  });

  check("choices that no machine has together are taken back, and told", function () {
    const job = example();
    job.options.push({ key: "shaft", choices: [{ key: "long" }, { key: "short" }] });
    job.vars = [["o", 0], ["o", 1], ["q", 0, 0], ["q", 0, 1]];
    // There are raw ones with a long shaft, and fresh ones with a short one. What is asked first has the last of vars.
    job.rows = [[0, 1, 0], [0, 0, 1], [2, 1, 0], [3, 1, 0], [1, 2, 3]];
    job.built = 6;
    const page = new Tablet().open(job);
    page.choose("shaft", "long");
    same(page.state().options.map((each) => each.possible), [[true, false], [true, true]]);
    page.choose("cooling", "fresh");
    same(page.state().options.map((each) => each.choice), ["fresh", null]);
    same(page.notices, [{ code: "unchosen", options: ["shaft"] }]);
    // What is not chosen follows from what is: no fresh one has the filter.
    page.choose("cooling", null);
    page.choose("shaft", "short");
    same(page.state().steps.k3.here, "no");
  });

  check("a ticked step that nobody answered was as it should be", function () {
    const page = new Tablet().open();
    page.tick("k4", true);
    same([page.state().steps.k4a.here, page.state().steps.k4a.why], ["no", "branch"]);
  });

  check("whoever does a step of a branch has opened it, and is told", function () {
    const page = new Tablet().open();
    page.tick("k4a", true);
    same(page.state().steps.k4.answers[0].branches, [0]);
    same(page.notices, [{ code: "branch", step: "k4", opened: ["k4a", "k4b"] }]);
    same([page.state().steps.k4a.here, page.state().steps.k4a.ticked], ["yes", true]);
  });

  check("a step back asks nothing again that was found before the step that it leads to", function () {
    const job = example();
    Object.assign(job.steps[1], { kind: "check", branches: [{ words: "If not:", each: false }] });
    job.steps.push({ ...job.steps[1], n: "2a", id: "job-step-2a", key: "k2a", up: [1, 0], kind: "tick", branches: [] });
    job.questions.push({ step: 1, branch: 0, box: null });
    const page = new Tablet().open(job);
    page.choose("cooling", "fresh");
    page.tick("k1", true);
    page.answer("k2", 0);
    same(page.state().steps.k2a.here, "yes");
    page.read("k4", 0, "0.4", "mm");
    page.tick("k4b", true);
    same([page.state().round.number, page.state().steps.k2a.here], [1, "yes"]);
  });

  check("a step back unticks what is done again, tells it, and can be taken back", function () {
    const page = new Tablet().open();
    for (const key of ["k1", "k2", "k4"]) page.tick(key, true);
    page.read("k4", 0, "0.4");
    page.tick("k4a", true);
    same(page.state().steps.k6.here, "no");
    same(page.state().steps.k6.why, "back");
    page.tick("k4b", true);
    const ticked = () => example().steps.map((step) => step.key).filter((key) => page.state().steps[key].ticked);
    const told = page.notices.filter((each) => each.code === "again");
    same(told, [{ code: "again", steps: ["k4", "k4a"], to: "k4" }]);
    same(ticked(), ["k1", "k2"]);
    same(page.state().round, { number: 1, back: "k4b" });
    same([page.state().steps.k4.again, page.state().steps.k1.again, page.state().steps.k6.here], [true, false, "yes"]);
    same(page.state().steps.k4.readings[0].text, "");
    same(off(page), [["screws", 2, "k7"], ["cover", 1, "k6"]]);
    page.read("k4", 0, "0.5");
    page.tick("k4b", true);
    same(page.state().round.number, 2);
    page.takeBack();
    same([page.state().round.number, page.state().steps.k4.readings[0].text], [1, "0.5"]);
    page.takeBack();
    same([page.state().round.number, page.state().steps.k4.readings[0].text], [0, "0.4"]);
    same(ticked(), ["k1", "k2", "k4", "k4a"]);
    page.takeBack();
    page.tick("k4b", true);
    same([page.state().round.number, page.state().steps.k4.readings[0].text], [1, ""]);
  });

  check("a grid is ticked when all its boxes are, and each box counts", function () {
    const page = new Tablet().open();
    page.tick("k1", true);
    page.box("k7", 0, true);
    same([page.state().steps.k7.boxes, page.state().steps.k7.ticked, off(page)], [[true, false], false, [["screws", 1, "k7"]]]);
    same([page.state().count[0].out, page.state().count[0].back, page.state().count[0].new], [2, 1, 1]);
    page.box("k7", 1, true);
    same([page.state().steps.k7.ticked, off(page)], [true, []]);
    page.tick("k7", false);
    same(page.state().steps.k7.boxes, [false, false]);
    page.tick("k7", true);
    page.box("k7", 9, true);
    page.tick("nothing", true);
    same(page.state().steps.k7.boxes, [true, true]);
  });

  check("a whole job closes, and says that it is finished, once", function () {
    const page = new Tablet().open();
    page.choose("cooling", "raw");
    let turns = 0;
    while (page.state().next && turns < 50) {
      page.tick(page.state().next, true);
      turns += 1;
    }
    const { done, of, closed, off: left } = page.state();
    same([turns, done, of, closed, left], [8, 8, 8, true, []]);
    same(codes(page).filter((code) => code === "finished"), ["finished"]);
    same(page.state().count.map((row) => [row.out, row.back, row.new, row.same, row.counted]), [[2, 2, 2, true, false], [1, 1, 0, true, false], [1, 1, 0, true, false]]);
  });

  check("a step left out is named, and nothing closes with it", function () {
    const page = new Tablet().open();
    page.choose("cooling", "fresh");
    for (const key of ["k1", "k4", "k6", "k7", "k8"]) page.tick(key, true);
    same([page.state().skipped, page.state().next, page.state().closed, page.state().off], [["k2"], "k2", false, []]);
  });

  check("the next step follows the one ticked last", function () {
    const page = new Tablet().open();
    page.tick("k6", true);
    same([page.state().next, page.state().nextBox], ["k7", 0]);
    page.tick("k1", true);
    same(page.state().next, "k2");
  });

  check("counted is ticked by nobody but the person", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.counted(1, true);
    same(page.state().count.map((row) => row.counted), [false, true, false]);
    same(tablet.open().state().count.map((row) => row.counted), [false, true, false]);
    page.counted(9, true);
  });

  check("all that was written is there after the page is loaded again", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.tick("k1", true);
    page.read("k4", 0, "0,28", "mm");
    page.blank("sign-off-1", "A <b>name</b>");
    page.blank("x".repeat(100), "nothing");
    page.note("cold");
    page.startTimer("k8");
    tablet.time += 1000;
    const again = tablet.open();
    same(again.state(), page.state().timers.length ? (page.refresh(), page.state()) : null);
    same(again.state().blanks, { "sign-off-1": "A <b>name</b>" });
    same([again.state().note, again.state().steps.k4.readings[0].text], ["cold", "0,28"]);
  });

  check("a timer survives the page, says when it is over, and only once", function () {
    const tablet = new Tablet();
    tablet.open().startTimer("k8");
    tablet.time += 599500;
    const page = tablet.open();
    same([page.state().steps.k8.timer.left, page.nextChange(), page.state().timers], [500, 500, ["k8"]]);
    tablet.time += 500;
    page.refresh();
    page.refresh();
    same(page.notices, [{ code: "timer-over", step: "k8" }]);
    same([page.state().steps.k8.timer.state, page.nextChange()], ["over", null]);
    page.stopTimer("k8");
    same(page.state().steps.k8.timer, null);
    page.startTimer("k1");
    same(page.state().timers, []);
  });

  check("a clock that was set back loses no tick", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.tick("k1", true);
    tablet.time = 1000;
    page.tick("k1", false);
    page.tick("k2", true);
    const again = tablet.open();
    same([again.state().steps.k1.ticked, again.state().steps.k2.ticked], [false, true]);
  });

  check("no title and no name is so long that ticks are lost", function () {
    const tablet = new Tablet();
    const long = function () {
      const job = Object.assign(example(), { title: "x".repeat(600) });
      for (const thing of job.things) thing.key += "-".repeat(600);
      return job;
    };
    const page = tablet.open(long());
    page.tick("k1", true);
    page.counted(0, true);
    const { steps, count } = tablet.open(long()).state();
    same([steps.k1.ticked, count[0].counted], [true, true]);
  });
})();
