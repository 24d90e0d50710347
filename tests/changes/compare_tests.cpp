#include "parts.hpp"
#include "projects.hpp"
#include "small_project.hpp"

#include <cmath>
#include <map>
#include <random>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// An independent account of what the shop makes, straight from the layout: lists of numbers, each
/// to be found in the other part's list. Places count from the lowest corner of the blank.
using Numbers = std::vector<double>;
struct Account {
  std::string stock;
  std::vector<Numbers> all;
};

Account account_of(const Part& part) {
  const Prism& blank = part.flat ? part.flat->blank : part.shape->prisms.front().prism;
  const bool member = part.kind == PartKind::member;
  Vec3 lo{};
  if (!member) lo = bounds(Shape{{{{blank.section, blank.height, {}, {}, {}}, {}}}, {}}).lo;
  Account account{part.stock.key + "|" + part.material, {}};
  const auto add = [&](Numbers numbers) { account.all.push_back(std::move(numbers)); };
  add({1, part.stock.length, part.stock.width, part.stock.thickness, part.stock.grain ? 1.0 : 0.0,
       blank.height});
  const auto add_corners = [&](double kind, const Loop& loop, double from, double to) {
    for (const Corner& c : loop) add({kind, c.at.x - lo.x, c.at.y - lo.y, c.radius, from, to});
  };
  if (!member) {
    add_corners(2, blank.section.outer, 0, 0);
    for (const Loop& opening : blank.section.holes) add_corners(3, opening, 0, 0);
  }
  for (const Cut& cut : blank.cuts) add_corners(4, cut.outline, cut.from, cut.to);
  for (const Bore& b : blank.bores) {
    double tapped = 0;
    for (const char c : b.thread) tapped = tapped * 7 + c;
    // A hole right through counts by the point where its line meets its middle, whatever its side.
    const Vec3 at = b.through ? b.at + b.direction * (b.depth / 2) : b.at;
    const Vec3 way =
        b.through ? Vec3{std::abs(b.direction.x), std::abs(b.direction.y), std::abs(b.direction.z)}
                  : b.direction;
    add({5, at.x - lo.x, at.y - lo.y, at.z, way.x, way.y, way.z, b.diameter, b.depth,
         b.through ? 1.0 : 0.0, tapped});
  }
  if (part.flat) {
    for (const BendLine& bend : part.flat->bends) {
      add({6, bend.a.x - lo.x, bend.a.y - lo.y, bend.b.x - lo.x, bend.b.y - lo.y, bend.angle * 1e3,
           bend.radius});
    }
  }
  for (const Covering& covering : part.coverings) {
    account.stock += "|" + covering.finish;
    add({7, covering.face ? 1.0 : 0.0, covering.back ? 1.0 : 0.0, covering.thickness,
         covering.turn_over});
    for (const std::size_t edge : covering.edges) {
      const Corner& c = blank.section.outer[edge];
      add({8, c.at.x - lo.x, c.at.y - lo.y});
    }
  }
  return account;
}

bool alike(const Numbers& a, const Numbers& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (std::abs(a[i] - b[i]) >= 0.01) return false;
  }
  return true;
}

bool contains_all(const std::vector<Numbers>& a, const std::vector<Numbers>& b) {
  return std::ranges::all_of(a, [&](const Numbers& one) {
    const auto count = [&](const std::vector<Numbers>& list) {
      return std::ranges::count_if(list, [&](const Numbers& other) { return alike(one, other); });
    };
    return count(a) == count(b);
  });
}

bool same_work(const Part& a, const Part& b) {
  const Account one = account_of(a);
  const Account other = account_of(b);
  return one.stock == other.stock && one.all.size() == other.all.size() &&
         contains_all(one.all, other.all);
}

std::map<std::string, const Part*> made_parts(const Layout& layout) {
  std::map<std::string, const Part*> parts;
  for (const Part& part : layout.parts) {
    if (part.kind != PartKind::hardware && part.kind != PartKind::equipment) parts[part.id] = &part;
  }
  return parts;
}

std::map<std::string, int> bought(const Layout& layout) {
  std::map<std::string, int> counts;
  for (const Part& part : layout.parts) {
    if ((part.kind == PartKind::hardware || part.kind == PartKind::equipment) &&
        !part.stock.key.empty())
      ++counts[part.stock.key];
  }
  return counts;
}

/// Every part that differs stands in the notice, and no other; and so does what is bought.
void check_against_layouts(const Layout& before, const Layout& after) {
  const ChangeNotice notice =
      compare_builds({"before", record_parts(before)}, {"after", record_parts(after)});
  std::set<std::string> changed;
  std::set<std::string> fresh;
  std::set<std::string> gone;
  const auto old_parts = made_parts(before);
  const auto new_parts = made_parts(after);
  for (const auto& [id, part] : new_parts) {
    const auto old = old_parts.find(id);
    if (old == old_parts.end())
      fresh.insert(id);
    else if (!same_work(*old->second, *part))
      changed.insert(id);
  }
  for (const auto& [id, part] : old_parts) {
    if (!new_parts.contains(id)) gone.insert(id);
  }
  std::set<std::string> told_changed;
  std::set<std::string> told_new;
  std::set<std::string> told_gone;
  for (const PartChange& change : notice.parts) {
    if (change.fate == Fate::gone)
      told_gone.insert(change.id);
    else if (change.is_new)
      told_new.insert(change.id);
    else if (change.fate != Fate::kept)
      told_changed.insert(change.id);
    if (change.fate == Fate::kept) CHECK(change.mark_before != change.mark_after);
    if (change.fate != Fate::gone && change.fate != Fate::kept && !change.is_new)
      CHECK_FALSE(change.differences.empty());
  }
  CHECK(told_changed == changed);
  CHECK(told_new == fresh);
  CHECK(told_gone == gone);

  const auto old_items = bought(before);
  const auto new_items = bought(after);
  std::set<std::string> told;
  for (const BoughtChange& item : notice.bought) {
    CAPTURE(item.key);
    CHECK(item.before == (old_items.contains(item.key) ? old_items.at(item.key) : 0));
    CHECK(item.after == (new_items.contains(item.key) ? new_items.at(item.key) : 0));
    CHECK(item.before != item.after);
    told.insert(item.key);
  }
  for (const auto* items : {&old_items, &new_items}) {
    for (const auto& [key, count] : *items) {
      const bool differs = !old_items.contains(key) || !new_items.contains(key) ||
                           old_items.at(key) != new_items.at(key);
      CAPTURE(key);
      CHECK(told.contains(key) == differs);
    }
  }
}

/// Marsh in some van, as far as it can be laid out there.
Layout marsh(const std::string& van, std::vector<std::string> settings = {}) {
  settings.push_back("project.vehicle=" RIBBAY_SOURCE_DIR "/params/vehicles/" + van + ".toml");
  return demo(settings);
}

ChangeNotice notice_of(const std::string& before, const std::string& after) {
  const auto old = lay_out_text(before);
  const auto fresh = lay_out_text(after);
  INFO(words(old.findings) + words(fresh.findings));
  REQUIRE(old.value);
  REQUIRE(fresh.value);
  return compare_builds({"before", record_parts(*old.value)},
                        {"after", record_parts(*fresh.value)});
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("Marsh in another van: the notice names every part that differs and no other",
          "[changes][marsh]") {
  const std::string before = GENERATE(as<std::string>(), "long_high", "long_mid", "short_low");
  const std::string after = GENERATE(as<std::string>(), "long_high", "long_mid", "short_low");
  CAPTURE(before, after);
  check_against_layouts(marsh(before), marsh(after));
}

TEST_CASE("Marsh after any change of its file: the notice names every part that differs",
          "[changes][marsh]") {
  const std::vector<std::vector<std::string>> edits = {
      {"module.galley.depth=515 mm"},
      {"module.rack.depth=540 mm"},
      {"module.bunk.height=880 mm"},
      {"sheet.birch_12.thickness=11.8 mm"},
      {"module.galley.height=870 mm"},
      {"module.rack.levels=[\"0 mm\", \"420 mm\", \"900 mm\"]"},
      {"profile.i_beam_80.width=48 mm"},
      {"finish.vinyl.thickness=0.9 mm"},
      {"module.partition.finishes.oil.finish=lacquer"},
      {"lining=40 mm"}};
  std::mt19937 random(5);
  const Layout plain = marsh("long_high");
  int differing = 0;
  for (int round = 0; round < 12; ++round) {
    std::vector<std::string> settings;
    for (const auto& edit : edits) {
      if (std::uniform_int_distribution<int>(0, 3)(random) == 0)
        settings.insert(settings.end(), edit.begin(), edit.end());
    }
    std::string all;
    for (const std::string& setting : settings) all += setting + "; ";
    CAPTURE(round, all);
    const auto inputs = read_inputs(RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml", settings);
    if (!inputs.value) continue;
    const auto layout = lay_out(*inputs.value);
    if (!layout.value) continue;
    differing +=
        compare_builds({"", record_parts(plain)}, {"", record_parts(*layout.value)}).empty() ? 0
                                                                                             : 1;
    check_against_layouts(plain, *layout.value);
    check_against_layouts(*layout.value, plain);
  }
  CHECK(differing >= 6);
}

TEST_CASE("a module that moves changes nothing", "[changes]") {
  const std::string moved = replaced(kPlainRack, "rear = \"100 mm\"", "rear = \"400 mm\"");
  const ChangeNotice notice = notice_of(kPlainRack, moved);
  CAPTURE(changes_text(notice));
  CHECK(notice.empty());
  CHECK(notice.kept > 10);
  CHECK_THAT(changes_text(notice), Catch::Contains("nothing differs"));
}

TEST_CASE("a renamed module keeps all its parts under other names", "[changes]") {
  const std::string renamed = replaced(kPlainRack, "[module.rack]", "[module.frame]");
  const ChangeNotice notice = notice_of(kPlainRack, renamed);
  CAPTURE(changes_text(notice));
  CHECK(notice.stock.empty());
  CHECK(notice.bought.empty());
  std::size_t others = 0;
  for (const PartChange& change : notice.parts) {
    CAPTURE(change.id);
    if (change.fate == Fate::gone) {
      CHECK(change.used_for == "frame" + change.id.substr(4));
      continue;
    }
    ++others;
    CHECK(change.fate == Fate::as_other);
    CHECK(change.from == "rack" + change.id.substr(5));
    CHECK(change.differences.empty());
  }
  CHECK(others > 10);
  CHECK(notice.parts.size() == 2 * others);
}

TEST_CASE("sheet of another thickness: every part of it is made anew, and the rest stays",
          "[changes][marsh]") {
  const Layout plain = demo();
  const Layout thicker = demo({"sheet.poplar_5.thickness=5 mm"});
  const ChangeNotice notice =
      compare_builds({"before", record_parts(plain)}, {"after", record_parts(thicker)});
  for (const auto& [id, part] : made_parts(thicker)) {
    const PartChange* change = change_of(notice, id);
    CAPTURE(id);
    if (part->stock.key != "poplar_5") continue;
    REQUIRE(change != nullptr);
    CHECK(change->fate == Fate::make);
    CHECK(std::ranges::find(change->differences, "thickness", &Difference::what) !=
          change->differences.end());
  }
}

TEST_CASE("what is made anew tells the holes of the new part alone", "[changes]") {
  const PartRecord old = with(panel(600, 300), {hole(50, 50), hole(300, 150)});
  const auto make = [&](const PartRecord& fresh) {
    const PartChange change =
        *change_of(compare_builds(build({old}), build({fresh})), "box/side");
    REQUIRE(change.fate == Fate::make);
    return change;
  };
  const PartChange longer = make(with(panel(640, 300), {hole(50, 50), hole(70, 90)}));
  REQUIRE(longer.work.size() == 3);
  CHECK(longer.work[0] == "made anew: saw to 640 x 300 x 12");
  CHECK_THAT(longer.work[1], Catch::StartsWith("drill ") && Catch::Contains("at 50, 50"));
  CHECK_THAT(longer.work[2], Catch::StartsWith("drill ") && Catch::Contains("at 70, 90"));
  REQUIRE(longer.differences.size() == 1);
  CHECK(longer.differences[0].what == "length");
  // Of the same size: that its holes are others is said, and not which they were.
  const PartChange moved = make(with(panel(600, 300), {hole(50, 50), hole(310, 150)}));
  REQUIRE(moved.work.size() == 3);
  REQUIRE(moved.differences.size() == 1);
  CHECK_THAT(moved.differences[0].what, Catch::Contains("holes"));
}

TEST_CASE("a profile that is another under the same key is told, and its old bars do not serve",
          "[changes]") {
  BuildRecord before = build({member(800)});
  BuildRecord after = build({member(700)});
  after.parts.sections["tube_40"].digest = "other";
  CHECK(change_of(compare_builds(before, after), "box/rail")->fate == Fate::make);
  after = build({member(800)});
  after.parts.sections["tube_40"].digest = "other";
  const ChangeNotice notice = compare_builds(before, after);
  REQUIRE(change_of(notice, "box/rail") != nullptr);
  CHECK(change_of(notice, "box/rail")->differences.front().what == "section");
}

TEST_CASE("what differs is told with what was and what is", "[changes]") {
  PartRecord old = with(panel(600, 300), {hole(100, 50), hole(590, 50)});  // one is sawn off
  PartRecord fresh = with(panel(580, 300), {hole(100, 50), hole(480, 60), blind_hole(20, 20, 8)});
  fresh.mark = "P4";
  const ChangeNotice notice = compare_builds(build({old}), build({fresh}));
  const PartChange& change = *change_of(notice, "box/side");
  CHECK(change.fate == Fate::recut);
  REQUIRE(change.differences.size() == 3);
  CHECK(change.differences[0].what == "length");
  CHECK(change.differences[0].before == "600");
  CHECK(change.differences[0].after == "580");
  CHECK(change.differences[1].before == "screw hole, diameter 5, through at 590, 50");
  CHECK(change.differences[1].after == "at 480, 60");
  CHECK(change.differences[2].before.empty());
  CHECK(change.differences[2].after == "pilot hole, diameter 5, 8 deep, from the face at 20, 20");
  CHECK_THAT(changes_text(notice), Catch::Contains("box/side (P4, before P1)"));

  // Less than is printed is told all the same.
  const ChangeNotice fine = compare_builds(build({panel(600, 300)}), build({panel(600.02, 300)}));
  CHECK(change_of(fine, "box/side")->differences[0].after == "600 (by 0.02 mm)");
  // Less than counts is not.
  CHECK(compare_builds(build({panel(600, 300)}), build({panel(600.005, 300)})).empty());
}

TEST_CASE("a part that stays and gets another mark is to be marked anew", "[changes]") {
  PartRecord fresh = panel(600, 300);
  fresh.mark = "P2";
  const ChangeNotice notice = compare_builds(build({panel(600, 300)}), build({fresh}));
  REQUIRE(notice.parts.size() == 1);
  CHECK(notice.parts.front().fate == Fate::kept);
  CHECK(notice.kept == 0);
  CHECK_THAT(changes_text(notice), Catch::Contains("keep, mark it anew (1)"));
}

TEST_CASE("drawings are replaced, put up or taken down by what they hold", "[changes]") {
  BuildRecord before = build({});
  BuildRecord after = build({});
  before.drawings = {{"drawings/a.svg", "1"}, {"drawings/b.svg", "2"}, {"drawings/c.svg", "3"}};
  after.drawings = {{"drawings/b.svg", "2"}, {"drawings/c.svg", "4"}, {"drawings/d.svg", "5"}};
  const ChangeNotice notice = compare_builds(before, after);
  REQUIRE(notice.drawings);
  CHECK_THAT(changes_text(notice), Catch::Contains("take down  drawings/a.svg") &&
                                       Catch::Contains("replace    drawings/c.svg") &&
                                       Catch::Contains("new        drawings/d.svg") &&
                                       !Catch::Contains("b.svg"));
  after.drawings.reset();
  CHECK_THAT(changes_text(compare_builds(before, after)),
             Catch::Contains("nothing differs") || Catch::Contains("not compared"));
}
