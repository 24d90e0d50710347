#include "words.hpp"

#include "base/tolerance.hpp"
#include "features.hpp"
#include "shape/role_words.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <set>

namespace ribbay::detail {

namespace {

/// A hole, cut, opening, corner, bend or finish in words: what it is, and where.
struct Feature {
  std::string what;   ///< "hole", "cut", ...
  std::string kind;   ///< "screw hole, diameter 5, 12 deep"
  std::string where;  ///< "at 37, 100"
  Vec3 at;
};
using Features = std::vector<Feature>;

std::string at_words(const PartRecord& part, Vec3 at, LengthStyle show) {
  if (part.kind == PartKind::member) return "at " + length_text(at.z, show) + " from its start";
  return "at " + length_text(at.x, show) + ", " + length_text(at.y, show);
}

std::string side_words(const PartRecord& part, const Bore& bore) {
  const bool lengthwise = std::abs(bore.direction.z) > 0.5;
  if (part.kind != PartKind::member) {
    if (!lengthwise) return "into the edge";
    return bore.direction.z < 0 ? "from the face" : "from the back";
  }
  if (lengthwise) return "into the end";
  const bool across = std::abs(bore.direction.x) > 0.5;
  const double way = across ? bore.direction.x : bore.direction.y;
  // The drill enters the side it comes from.
  return std::string("from side ") + (way > 0 ? "-" : "+") + (across ? "x" : "y");
}

Feature feature_of(const PartRecord& part, const Bore& bore, LengthStyle show) {
  std::string kind = name(bore.role) + " hole, diameter " + length_text(bore.diameter, show);
  if (!bore.thread.empty()) kind += ", tapped " + bore.thread;
  const bool mark = !bore.through && bore.depth < kContact + kSame;
  kind += bore.through ? ", through"
          : mark       ? ", marked only"
                       : ", " + length_text(bore.depth, show) + " deep";
  if (!bore.through || part.kind == PartKind::member) kind += ", " + side_words(part, bore);
  return {"hole", kind, at_words(part, bore.at, show), bore.at};
}

std::string extent_words(const Box& box, LengthStyle show) {
  return length_text(box.size().x, show) + " x " + length_text(box.size().y, show);
}

Feature feature_of(const PartRecord& part, const Cut& cut, LengthStyle show) {
  const Box box = bounds_of(cut.outline);
  const Vec3 at{box.lo.x, box.lo.y, cut.from};
  std::string kind = extent_words(box, show) + " " + std::string(name(cut.role));
  kind += ", from " + length_text(std::max(cut.from, 0.0), show) + " to " +
          length_text(std::min(cut.to, part.height), show) +
          (part.kind == PartKind::member ? " of its length" : " of its thickness");
  return {"cut", kind, at_words(part, at, show), at};
}

Features holes_of(const PartRecord& part, LengthStyle show) {
  Features all;
  for (const Bore& bore : part.bores) all.push_back(feature_of(part, bore, show));
  return all;
}

Features cuts_of(const PartRecord& part, LengthStyle show) {
  Features all;
  for (const Cut& cut : part.cuts) all.push_back(feature_of(part, cut, show));
  return all;
}

Features openings_of(const PartRecord& part, LengthStyle show) {
  Features all;
  for (const Loop& hole : part.outline.holes) {
    const Box box = bounds_of(hole);
    all.push_back(
        {"opening", extent_words(box, show) + " opening", at_words(part, box.lo, show), box.lo});
  }
  return all;
}

Features corners_of(const PartRecord& part, LengthStyle show) {
  Features all;
  for (const Corner& corner : part.outline.outer) {
    const Vec3 at{corner.at.x, corner.at.y, 0.0};
    std::string kind = "corner";
    if (corner.radius > 0.0) kind += " rounded " + length_text(corner.radius, show);
    all.push_back({"outline", kind, at_words(part, at, show), at});
  }
  return all;
}

Features bends_of(const PartRecord& part, LengthStyle show) {
  Features all;
  for (const BendLine& bend : part.bends) {
    const Vec3 at{bend.a.x, bend.a.y, 0.0};
    const double degrees = bend.angle * 180.0 / std::numbers::pi;
    all.push_back({"bend",
                   "bend of " + rounded_text(degrees, 2) + " deg, inside radius " +
                       length_text(bend.radius, show),
                   at_words(part, at, show) + " to " + length_text(bend.b.x, show) + ", " +
                       length_text(bend.b.y, show),
                   at});
  }
  return all;
}

std::string finish_words(const FinishRecord& finish) {
  std::vector<std::string> where;
  if (finish.face) where.emplace_back("face");
  if (finish.back) where.emplace_back("back");
  if (!finish.edges.empty()) where.push_back(std::to_string(finish.edges.size()) + " edges");
  if (finish.turn_over > 0.0) where.emplace_back("turned over");
  return finish.finish + " on " + join(where, ", ");
}

Features finishes_of(const PartRecord& part, LengthStyle) {
  Features all;
  for (const FinishRecord& finish : part.finishes)
    all.push_back({"finish", finish_words(finish), "", {}});
  return all;
}

/// The features of `a` that have no partner in `b`, by the items themselves.
template <class Item>
Features without_partner(const std::vector<Item>& a, const std::vector<Item>& b, Features words) {
  const auto partner = pairs(a, b, [](const Item& x, const Item& y) { return same(x, y); });
  Features left;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (partner[i] < 0) left.push_back(std::move(words[i]));
  }
  return left;
}

std::string words(const Feature& feature) {
  return feature.where.empty() ? feature.kind : feature.kind + " " + feature.where;
}

/// Two texts that read alike because they are rounded are told apart by how far they differ.
Difference told_apart(Difference difference, double mm) {
  if (difference.before == difference.after)
    difference.after += " (by " + rounded_text(mm, 2) + " mm)";
  return difference;
}

/// What is of one kind and near has moved; the rest is gone or new.
void add_differences(Features before, Features after, std::vector<Difference>& found) {
  for (const Feature& old : before) {
    auto nearest = after.end();
    double best = std::numeric_limits<double>::infinity();
    for (auto other = after.begin(); other != after.end(); ++other) {
      const double apart = length(other->at - old.at);
      if (other->kind == old.kind && apart < best - kContact) {
        best = apart;
        nearest = other;
      }
    }
    if (nearest == after.end()) {
      found.push_back({old.what, words(old), ""});
      continue;
    }
    // Where it is now says enough, when it is as it was otherwise.
    const Difference moved = told_apart({old.what, old.where, nearest->where}, best);
    found.push_back({old.what, words(old), nearest->where.empty() ? words(*nearest) : moved.after});
    after.erase(nearest);
  }
  for (const Feature& fresh : after) found.push_back({fresh.what, "", words(fresh)});
}

template <class Item>
void compare(const std::vector<Item>& a, Features words_a, const std::vector<Item>& b,
             Features words_b, std::vector<Difference>& found) {
  add_differences(without_partner(a, b, std::move(words_a)),
                  without_partner(b, a, std::move(words_b)), found);
}

/// Corners, compared one by one.
struct OutlineCorner {
  Corner corner;
};
bool same(const OutlineCorner& a, const OutlineCorner& b) {
  return near(a.corner.at, b.corner.at) && near(a.corner.radius, b.corner.radius);
}
std::vector<OutlineCorner> corner_list(const PartRecord& part) {
  std::vector<OutlineCorner> list;
  for (const Corner& corner : part.outline.outer) list.push_back({corner});
  return list;
}

bool is_rectangle(const PartRecord& part) {
  if (part.outline.outer.empty()) return true;
  const Box box = bounds_of(part.outline.outer);
  return detail::same(part.outline.outer, rectangle({box.lo.x, box.lo.y}, {box.hi.x, box.hi.y}));
}

void compare_sizes(const PartRecord& old, const PartRecord& fresh, LengthStyle show,
                   std::vector<Difference>& found) {
  const auto add = [&](const char* what, double before, double after) {
    if (near(before, after)) return;
    found.push_back(told_apart({what, length_text(before, show), length_text(after, show)},
                               std::abs(after - before)));
  };
  const auto add_text = [&](const char* what, const std::string& before, const std::string& after) {
    if (before != after) found.push_back({what, before, after});
  };
  add_text("kind", std::string(ribbay::name(old.kind)), std::string(ribbay::name(fresh.kind)));
  add_text("stock", old.stock, fresh.stock);
  add_text("material", old.material, fresh.material);
  add("length", old.length, fresh.length);
  add("width", old.width, fresh.width);
  add("thickness", old.thickness, fresh.thickness);
  add_text("grain", old.grain ? "along its length" : "any",
           fresh.grain ? "along its length" : "any");
}

}  // namespace

std::string size_words(const PartRecord& part, LengthStyle show) {
  std::string text = length_text(part.length, show);
  for (const double size : {part.width, part.thickness}) {
    if (size > 0.0) text += " x " + length_text(size, show);
  }
  return text;
}

std::vector<Difference> differences(const PartsRecord& before, const PartRecord& old,
                                    const PartsRecord& after, const PartRecord& fresh) {
  const LengthStyle show = after.show;
  std::vector<Difference> found;
  compare_sizes(old, fresh, show, found);
  if (!(is_rectangle(old) && is_rectangle(fresh)) || found.empty())
    compare(corner_list(old), corners_of(old, show), corner_list(fresh), corners_of(fresh, show),
            found);
  compare(old.outline.holes, openings_of(old, show), fresh.outline.holes, openings_of(fresh, show),
          found);
  compare(old.cuts, cuts_of(old, show), fresh.cuts, cuts_of(fresh, show), found);
  compare(old.bores, holes_of(old, show), fresh.bores, holes_of(fresh, show), found);
  compare(old.bends, bends_of(old, show), fresh.bends, bends_of(fresh, show), found);
  compare(old.finishes, finishes_of(old, show), fresh.finishes, finishes_of(fresh, show), found);
  if (found.empty() && !same_piece(before, old, after, fresh)) {
    const bool section = old.kind == PartKind::member && old.form == fresh.form;
    found.push_back({section ? "section" : "shape", "as it was", "another"});
  }
  return found;
}

std::vector<Difference> size_differences(const PartsRecord& before, const PartRecord& old,
                                         const PartsRecord& after, const PartRecord& fresh) {
  static const std::set<std::string, std::less<>> features{"hole", "cut", "opening",
                                                           "outline", "bend", "finish"};
  std::vector<Difference> found = differences(before, old, after, fresh);
  std::erase_if(found, [](const Difference& each) { return features.contains(each.what); });
  if (found.empty()) found.push_back({"holes, cuts, outline or finish", "as they were", "others"});
  return found;
}

std::vector<std::string> making_words(const PartRecord& fresh, LengthStyle show) {
  Reuse from_new;
  from_new.old.kind = fresh.kind;
  from_new.sawn = true;
  std::vector<std::string> work = work_words(from_new, fresh, show);
  work.front() = "made anew: " + work.front();
  for (const Feature& bend : bends_of(fresh, show)) work.push_back("fold: " + words(bend));
  return work;
}

std::vector<std::string> work_words(const Reuse& reuse, const PartRecord& fresh, LengthStyle show) {
  std::vector<std::string> work;
  const PartRecord& old = reuse.old;
  if (reuse.sawn) {
    const bool member = fresh.kind == PartKind::member;
    std::string saw = "saw to " + size_words(fresh, show);
    if (!member && !is_rectangle(fresh)) saw += ", to its outline";
    if (length(reuse.at) > 0.0) {
      saw += member ? ", beginning " + length_text(reuse.at.z, show) + " from its start"
                    : ", its corner at " + length_text(reuse.at.x, show) + ", " +
                          length_text(reuse.at.y, show) + " of the old part";
    }
    work.push_back(saw + (reuse.turned ? ", the old part turned" : ""));
  } else if (reuse.turned) {
    work.emplace_back("turn it");
  }
  for (const Feature& opening :
       without_partner(fresh.outline.holes, old.outline.holes, openings_of(fresh, show)))
    work.push_back("cut " + words(opening));
  for (const Feature& cut : without_partner(fresh.cuts, old.cuts, cuts_of(fresh, show)))
    work.push_back("cut " + words(cut));
  const auto begun_by = pairs(fresh.bores, old.bores, [](const Bore& to_make, const Bore& there) {
    return begun(there, to_make);
  });
  const Features holes = holes_of(fresh, show);
  for (std::size_t b = 0; b < holes.size(); ++b) {
    const bool there = begun_by[b] >= 0;
    if (there && same(old.bores[static_cast<std::size_t>(begun_by[b])], fresh.bores[b])) continue;
    work.push_back((there ? "drill deeper: " : "drill ") + words(holes[b]));
  }
  const Features finishes = finishes_of(fresh, show);
  for (std::size_t f = 0; f < finishes.size(); ++f) {
    const bool there = std::ranges::any_of(
        old.finishes, [&](const FinishRecord& finish) { return same(finish, fresh.finishes[f]); });
    if (!there || (reuse.sawn && !fresh.finishes[f].edges.empty()))
      work.push_back("finish: " + words(finishes[f]) + (there ? ", where it was sawn" : ""));
  }
  return work;
}

std::string_view name(Fate fate) {
  switch (fate) {
    case Fate::kept:
      return "kept";
    case Fate::as_other:
      return "as other part";
    case Fate::drill:
      return "drill";
    case Fate::recut:
      return "recut";
    case Fate::make:
      return "make";
    case Fate::gone:
      break;
  }
  return "gone";
}

}  // namespace ribbay::detail
