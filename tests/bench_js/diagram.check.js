(function () {
  "use strict";
  const { first, holds, steered, possible, surroundings } = Putback.diagram;

  /** Return a random diagram over three options and two questions, reduced, with all its sets. */
  function drawn(random) {
    const options = [2, 3, 2].map((many, place) => ({ key: "o" + place, choices: new Array(many).fill(0).map((none, at) => ({ key: "c" + at })) }));
    const job = { options, vars: [["o", 0], ["o", 1], ["o", 2], ["q", 0, 0], ["q", 1, 0]], rows: [] };
    const sets = [0, 1];
    for (let count = 0; count < 25; count += 1) {
      const asked = Math.min(4, Math.floor(count / 5));
      const below = sets.filter((set) => set < 2 || job.rows[set - 2][0] < asked);
      const many = asked < 3 ? options[asked].choices.length : 2;
      const children = new Array(many).fill(0).map(() => below[Math.floor(random() * below.length)]);
      if (children.some((child) => child !== children[0])) sets.push(job.rows.push([asked, ...children]) + 1);
    }
    return { job, sets };
  }

  /** Return whether a set holds for a whole machine. */
  function brute(job, set, machine, answers) {
    while (set > 1) {
      const [asked, ...children] = job.rows[set - 2];
      set = asked < 3 ? children[machine[asked]] : children[answers[asked - 3] ? 0 : 1];
    }
    return set === 1;
  }

  const MACHINES = [];
  for (let one = 0; one < 2; one += 1) for (let two = 0; two < 3; two += 1) for (let three = 0; three < 2; three += 1) MACHINES.push([one, two, three]);

  check("a look-up says what a look at every machine says, for 2,000 random diagrams", function () {
    const random = dice(11);
    let perhaps = 0;
    for (let turn = 0; turn < 2000; turn += 1) {
      const { job, sets } = drawn(random);
      const pick = () => sets[Math.floor(random() * sets.length)];
      const known = job.options.map((option) => (random() < 0.5 ? -1 : Math.floor(random() * option.choices.length)));
      const answers = [random() < 0.5, random() < 0.5];
      const around = surroundings(job, known, 0, (question) => answers[question]);
      const fits = (machine) => machine.every((choice, place) => known[place] < 0 || known[place] === choice);
      // Which machines exist hangs on options only.
      const machines = sets.filter((set) => set < 2 || job.rows[set - 2][0] < 3);
      job.built = machines[Math.floor(random() * machines.length)];
      const left = MACHINES.filter((machine) => fits(machine) && brute(job, job.built, machine, answers));
      const three = [pick(), pick(), pick()];
      const wanted = new Set(left.map((machine) => {
        const at = three.findIndex((set) => brute(job, set, machine, answers));
        return at < 0 ? 3 : at;
      })); // prettier-ignore
      same(first(three.map((set) => ({ set, around })), { set: job.built, around }), [...wanted].sort());
      if (!left.length) continue;
      const truths = new Set(left.map((machine) => brute(job, three[0], machine, answers)));
      const said = holds(three[0], around);
      // A set that holds always or never is not looked up among the machines.
      if (truths.size > 1) same(said, "perhaps");
      else if (three[0] > 1) same(said, [...truths][0] ? "yes" : "no");
      if (said === "perhaps") perhaps += 1;
      const open = known.findIndex((choice) => choice < 0);
      if (open >= 0)
        same(possible(job, known, open), job.options[open].choices.map((each, choice) => left.some((machine) => machine[open] === choice)));
    }
    same(perhaps > 100, true);
  });

  check("a set is followed to where it holds, by the answers given where they do", function () {
    const random = dice(5);
    for (let turn = 0; turn < 500; turn += 1) {
      const { job, sets } = drawn(random);
      const set = sets[Math.floor(random() * sets.length)];
      const machine = MACHINES[Math.floor(random() * MACHINES.length)];
      const answers = [random() < 0.5, random() < 0.5];
      if (![[true, true], [true, false], [false, true], [false, false]].some((all) => brute(job, set, machine, all))) continue;
      const around = surroundings(job, machine, 0, (question) => answers[question]);
      const kept = steered(set, around);
      const steeredTo = answers.map((answer, place) => (kept.has(place) ? kept.get(place) : answer));
      same(brute(job, set, machine, steeredTo), true);
      if (brute(job, set, machine, answers)) same(steeredTo, answers);
    }
  });

  check("questions of other laps are not answered", function () {
    const job = { options: [], vars: [["q", 0, 1], ["w", 1], ["q", 0, 0]], rows: [[0, 1, 0], [1, 1, 0], [2, 1, 0]], built: 1 };
    const said = (lap) => [2, 3, 4].map((set) => holds(set, surroundings(job, [], lap, () => true)));
    same([said(0), said(1), said(2)], [["no", "no", "yes"], ["yes", "yes", "no"], ["no", "no", "no"]]);
  });
})();
