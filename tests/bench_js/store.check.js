(function () {
  "use strict";
  const { open, folderOf, keyOf } = Putback.store;
  const at = (shelf, folder) => open(() => shelf, folder || "file:///a/", "guide");

  check("the folder of a guide follows from the address of any of its pages", function () {
    same(folderOf("file:///media/usb/hollin/jobs/pump.html?x=1#step-3", "../"), "file:///media/usb/hollin/");
    same(folderOf("file:///media/usb/hollin/index.html", ""), "file:///media/usb/hollin/");
    same(folderOf("file:///C:/a%20b/x/y/z.html", "../../"), "file:///C:/a%20b/");
    same(folderOf("file:///x.html", "../../../"), "/");
  });

  check("keys of other folders, guides and names never meet", function () {
    const keys = [["a", "b"], ["a|b"], ["a", "b", ""], ["a%7Cb"], ["a", "", "b"], ["A", "b"], ["\ud83d\udd27"], ["\ud83d\udd28"], ["\u00e4"], ["a\u0308"]].map(keyOf);
    same(new Set(keys).size, keys.length);
    same(keyOf(["\ud800"]).length > 0, true);
  });

  check("two folders on one shelf do not see each other", function () {
    const shelf = new Shelf();
    const [one, other] = [at(shelf, "file:///a/"), at(shelf, "file:///a/b/")];
    one.put(["sheet", "x"], "1");
    other.put(["sheet", "y"], "2");
    same([one.get(["sheet", "y"]), one.names(["sheet"]), other.names(["sheet"])], [null, ["x"], ["y"]]);
    one.drop(["sheet", "x"]);
    same([one.names(["sheet"]), other.get(["sheet", "y"])], [[], "2"]);
  });

  check("what others keep on the shelf is left alone", function () {
    const shelf = new Shelf();
    shelf.setItem("theirs", "1");
    shelf.setItem("putback.1|x", "2");
    const store = at(shelf);
    store.put(["a"], "3");
    same([store.names([]), shelf.getItem("theirs"), shelf.getItem("putback.1|x")], [["a"], "1", "2"]);
  });

  check("without a storage everything works, and says that nothing is kept", function () {
    const denied = () => {
      throw new Error("SecurityError");
    };
    for (const reach of [denied, () => null, null, () => undefined]) {
      const store = open(reach, "f", "g");
      same([store.put(["a"], "1"), store.state(), store.get(["a"]), store.names([])], ["no", "no", "1", ["a"]]);
      store.drop(["a"]);
      same([store.get(["a"]), store.names([])], [null, []]);
    }
  });

  check("a storage that refuses later keeps what it had, and is tried again", function () {
    const shelf = new Shelf();
    const store = at(shelf);
    store.put(["a"], "1");
    shelf.refuses = Object.assign(new Error("no"), { name: "SecurityError" });
    same([store.put(["a"], "2"), store.get(["a"])], ["no", "2"]);
    shelf.refuses = null;
    same([at(shelf).get(["a"]), store.settle(), at(shelf).get(["a"])], ["1", "yes", "2"]);
  });

  check("a full storage says so, and forgets nothing of what it has", function () {
    const shelf = new Shelf(200);
    const store = at(shelf);
    same(store.put(["a"], "1"), "yes");
    same([store.put(["a"], "x".repeat(500)), store.state()], ["full", "full"]);
    same([store.get(["a"]).length, at(shelf).get(["a"])], [500, "1"]);
    shelf.room = Infinity;
    same([store.put(["b"], "2"), at(shelf).get(["a"]).length], ["yes", 500]);
    shelf.room = 0;
    same(at(shelf).state(), "full");
    store.put(["a"], "y".repeat(900));
    store.forget(["a"]);
    same(store.get(["a"]).length, 500);
  });

  check("what is removed makes room", function () {
    const shelf = new Shelf(150);
    const store = at(shelf);
    store.put(["a"], "x".repeat(60));
    same(store.put(["b"], "y".repeat(60)), "full");
    same([store.drop(["a"]), at(shelf).get(["b"]).length], ["yes", 60]);
  });
})();
