(function () {
  "use strict";
  const { parse, judge } = Putback.judge;

  const NUMBERS = [
    ["5", 5], ["5.2", 5.2], ["5,2", 5.2], ["0,125", 0.125], ["0.125", 0.125], [".5", 0.5], [",5", 0.5], ["5.", 5],
    ["-3", -3], ["\u22123,5", -3.5], ["+4", 4], [" 7 ", 7], ["1 234", 1234], ["1\u202f234,5", 1234.5],
    ["1,234,567", 1234567], ["1.234,5", 1234.5], ["1,234.5", 1234.5], ["12,34", 12.34], ["0,1234", 0.1234],
    ["1234", 1234], ["1234,5", 1234.5], ["0005", 5], ["- 2", -2],
  ]; // prettier-ignore
  const NONE = [
    "", " ", "abc", "5..2", "5,2,1", "1,23,456", "1.2.3", "5-6", "5 to 6", "~5", "<5", "5e3", "0x10", "\u00bd", "1/2", "5\u00b2", "NaN",
    "Infinity", "--5", "+-5", "1 2", "12 34", "5 2.1", "\u0665", "9".repeat(30), "<script>", "5;6", "1,234.567,8", ".", ",", "-", "5\n6",
  ]; // prettier-ignore

  check("what is clearly a number is read with a comma and with a point", function () {
    for (const sign of [".", ","]) for (const [text, value] of NUMBERS) same(parse(text, sign), value, text);
  });

  check("what is no number is none", function () {
    for (const sign of [".", ","]) for (const text of NONE) same(parse(text, sign), null, text);
  });

  check("a sign before three digits is read as the page writes numbers, and else not at all", function () {
    same(parse("1.234", "."), 1.234);
    same(parse("1,234", ","), 1.234);
    same(parse("1,234", "."), undefined);
    same(parse("1.234", ","), undefined);
    same(judge("1,234", "mm", [{ unit: "mm", low: 1, high: 2000 }], ".").is, "unclear");
  });

  check("a unit has the name that the page prints, and its own", function () {
    const limits = [{ unit: "rpm", shown: "1/min", low: 850, high: 950 }];
    for (const text of ["900", "900 1/min", "900 rpm", "900rpm"]) same(judge(text, "rpm", limits).is, "good", text);
    same(judge("9001/min", "rpm", limits).is, "unit");
    same(judge("900 1", "rpm", limits).is, "garbage");
    same(judge("960 1/min", "", limits), { is: "high", value: 960, unit: "rpm" });
  });

  const LIMITS = [
    { unit: "mm", low: 0.2, high: 0.3 },
    { unit: "in", low: 0.008, high: 0.012 },
  ];

  check("a limit holds its own bounds", function () {
    for (const [text, is] of [["0.2", "good"], ["0.3", "good"], ["0,25", "good"], ["0.19", "low"], ["0.31", "high"], ["-0.25", "low"]])
      same(judge(text, "mm", LIMITS).is, is, text);
  });

  check("an open bound is outside", function () {
    const open = [{ unit: "V", low: 12, lowOpen: true, high: 14, highOpen: true }];
    same(["12", "12.01", "13.99", "14"].map((text) => judge(text, "V", open).is), ["low", "good", "good", "high"]);
  });

  check("one bound is enough, and none is free", function () {
    same(judge("9", "mm", [{ unit: "mm", low: null, high: 8 }]).is, "high");
    same(judge("7", "mm", [{ unit: "mm", low: null, high: 8 }]).is, "good");
    same(judge("7", "mm", [{ unit: "mm", low: null, high: null }]).is, "free");
    same(judge("7", "", []).is, "free");
  });

  check("a unit after the number counts, however it is written", function () {
    same(judge("0.010 in", "mm", LIMITS), { is: "good", value: 0.01, unit: "in" });
    same(judge("0.25mm", "in", LIMITS), { is: "good", value: 0.25, unit: "mm" });
    same(judge("10 Nm", "N\u00b7m", [{ unit: "N\u00b7m", low: 9, high: 11 }]).is, "good");
    same(judge("5 k\u2126", "k\u03a9", [{ unit: "k\u03a9", low: 1, high: 9 }]).is, "good");
  });

  check("another unit is not good", function () {
    for (const text of ["0.25 cm", "0.25 MM", "0.25 mm or so", "0.25 in mm"]) same(judge(text, "mm", LIMITS).is, "unit", text);
    same(judge("0.25", "kPa", LIMITS).is, "unit");
  });

  check("nothing that is no number is ever good", function () {
    for (const text of NONE) {
      const { is } = judge(text, "mm", [{ unit: "mm", low: -1e9, high: 1e9 }]);
      if (is === "good" || is === "low" || is === "high") throw new Error(JSON.stringify(text) + " is " + is);
    }
  });

  check("an empty blank is empty, and a strange value is none", function () {
    same(judge("  ", "mm", LIMITS).is, "empty");
    same(judge(null, "mm", LIMITS).is, "empty");
    for (const odd of [{}, [], true, NaN]) same(judge(odd, "mm", LIMITS).is === "good", false);
    same(judge("5", "mm", null).is, "free");
  });
})();
