#include "rack.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "holds.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace ribbay::detail {

RackWork::RackWork(const ModuleRequest& module)
    : request{module},
      shop{module},
      joints{module, shop},
      profile{entry(module.catalogue.profiles, module.fields.text("profile"))},
      bracket{bought(module, module.catalogue.brackets, module.fields.text("bracket"))},
      levels{module.fields.numbers("levels")},
      side{profile.width},
      depth{module.size.y} {}

namespace {

bool levels_fit(RackWork& w) {
  if (!std::ranges::is_sorted(w.levels)) {
    std::vector<double> rising = w.levels;
    std::ranges::sort(rising);
    std::vector<std::string> words;
    for (const double level : rising) words.push_back(number_text(level));
    Finding finding = input_error("rack.levels_fall", w.request.fields.place("levels"));
    finding.subjects = {w.request.name};
    w.shop.find(std::move(finding.with("mend", "[" + ribbay::join(words, ", ") + "]")));
    return false;
  }
  for (std::size_t i = 0; i < w.levels.size(); ++i) {
    const double lowest = i == 0 ? 0.0 : w.levels[i - 1] + w.side;
    if (w.levels[i] >= lowest - kSame && w.levels[i] + w.side <= w.request.size.z + kSame) continue;
    Finding finding = input_error("rack.levels", w.request.fields.place("levels"));
    finding.subjects = {w.request.name};
    finding.with("level", static_cast<double>(i + 1), Unit::count)
        .with("measured", w.levels[i], Unit::mm)
        .with("lowest", lowest, Unit::mm)
        .with("highest", w.request.size.z - w.side, Unit::mm);
    w.shop.find(std::move(finding));
    return false;
  }
  return true;
}

bool bays_fit(RackWork& w) {
  const auto& wanted = w.request.fields.sizes("bays");
  const double free = w.request.size.x - static_cast<double>(wanted.size() + 1) * w.side;
  const auto bays = share_out(wanted, free);
  double fixed = 0.0;
  bool shared = false;
  for (const Size& size : wanted) {
    fixed += size.mm;
    shared = shared || size.share > 0;
  }
  // Without shares the bays must fill the width: nothing else says where the last post goes.
  if (!bays || free <= 0 || (!shared && std::abs(fixed - free) > kSame)) {
    Finding finding = input_error("rack.bays", w.request.fields.place("bays"));
    finding.subjects = {w.request.name};
    finding.with("measured", fixed, Unit::mm)
        .with("required", std::max(free, 0.0), Unit::mm)
        .with("width", w.request.size.x, Unit::mm)
        .with("posts", static_cast<double>(wanted.size() + 1), Unit::count);
    w.shop.find(std::move(finding));
    return false;
  }
  double x = w.side / 2;
  w.lines.push_back(x);
  for (const double bay : *bays) w.lines.push_back(x += bay + w.side);
  return true;
}

bool usable(RackWork& w) {
  if (!w.profile.slot || std::abs(w.profile.width - w.profile.height) > kSame) {
    Finding finding = input_error("rack.profile", w.request.fields.place("profile"));
    finding.subjects = {w.request.name};
    w.shop.find(std::move(finding.with("found", w.profile.key)));
    return false;
  }
  if (w.depth < 3 * w.side) {
    Finding finding = input_error("rack.too_shallow", w.request.fields.place());
    finding.subjects = {w.request.name};
    w.shop.find(std::move(
        finding.with("measured", w.depth, Unit::mm).with("required", 3 * w.side, Unit::mm)));
    return false;
  }
  return w.joints.usable() && bays_fit(w) && levels_fit(w);
}

ModuleParts make_rack(const ModuleRequest& request) {
  RackWork work(request);
  if (!usable(work)) return work.shop.finish();
  make_rack_frame(work);
  add_rack_feet(work);
  make_rack_contents(work);
  return work.shop.finish();
}

/// A rack's own fields, with those of its joints after the bracket.
std::vector<Field> with_joints(std::vector<Field> own) {
  std::vector<Field> joints = RackJoints::fields();
  own.insert(own.begin() + 2, std::make_move_iterator(joints.begin()),
             std::make_move_iterator(joints.end()));
  return own;
}

}  // namespace

Kind rack_kind() {
  return {
      .name = "rack",
      .schema = module_schema(
          "rack",
          "a frame of slotted profile with bays and levels, shelves, infill panels and equipment",
          with_joints(
              {reference_field("profile", "profile")
                   .needed()
                   .means("square slotted profile of posts and rails"),
               reference_field("bracket", "bracket")
                   .needed()
                   .means("inside-corner bracket at every rail end"),
               sizes_field("bays")
                   .items(1, 20)
                   .otherwise("[\"1 share\"]")
                   .means("free widths between the posts, from left to right"),
               lengths_field("levels").needed().items(1, 30).at_least(0).means(
                   "heights of the undersides of the rails above the rack's own underside, rising"),
               reference_field("foot", "bracket")
                   .means(
                       "bracket that holds the lowest side rails to the floor where they cross a "
                       "joist"),
               reference_field("floor_bolt", kMachineBolt)
                   .means("bolt from a foot into the joist; needed with foot"),
               keyed_field("shelves",
                           {count_field("level").needed().at_least(1).means(
                                "the level it lies on; 1 is the lowest"),
                            count_field("bay").at_least(1).means(
                                "one bay, counted from the left; else all"),
                            reference_field("sheet", kBoard).needed().means("what it is cut from")})
                   .means("shelves on the rails, notched around the posts"),
               keyed_field(
                   "holds",
                   {held_item_fields()[0], held_item_fields()[1],
                    count_field("bay").needed().at_least(1).means("bay, counted from the left"),
                    count_field("level").needed().at_least(1).means("level it stands on"),
                    choice_field("comes_out", {"front", "back", "left", "right"})
                        .otherwise("front")
                        .means(
                            "side of the rack that its front looks to; recorded for the way out, "
                            "and not "
                            "yet checked"),
                    length_field("from_left")
                        .at_least(0)
                        .means("from the bay's left post; else in the middle"),
                    length_field("from_front")
                        .at_least(0)
                        .means("from the rack's front; else in the middle")})
                   .means("equipment in the bays; it stands on a shelf, or else on seat rails made "
                          "for "
                          "it"),
               keyed_field("infill",
                           {choice_field("side", {"front", "back", "left", "right"})
                                .needed()
                                .means("side of the rack"),
                            count_field("bay").otherwise("1").at_least(1).means(
                                "bay of a front or back panel"),
                            count_field("above_level")
                                .needed()
                                .at_least(1)
                                .means("level under the opening; it reaches up to the next one"),
                            reference_field("sheet", kBoard).needed().means("what it is cut from")})
                   .means("panels in the slots, put in before the frame is closed")})),
      .generate = make_rack};
}

}  // namespace ribbay::detail
