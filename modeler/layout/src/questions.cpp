#include "questions.hpp"

#include "layout/project.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr std::string_view kDistance = "distance_to.";

/// One question: how it is asked, and what it answers; nullopt where the van has no answer.
struct Question {
  std::string_view name;
  std::string_view usage;
  std::string_view meaning;  ///< for the reference
  std::size_t fewest;
  std::size_t most;
  std::optional<double> (*answer)(const Vehicle& vehicle, std::span<const Quantity> a);
};

std::optional<ClearWidth> clear(const Vehicle& vehicle, std::span<const Quantity> a) {
  return clear_width(vehicle, a[0].value, a[1].value, a[2].value, a[3].value);
}

std::optional<double> rib_x(const Rib* rib) {
  return rib == nullptr ? std::nullopt : std::optional(rib->x);
}

/// x of the joist across the van that is nearest to x; when y is given, of those that run below it.
std::optional<double> joist_x(const Vehicle& vehicle, std::span<const Quantity> a) {
  std::optional<double> best;
  for (const Joist& joist : vehicle.joists) {
    if (!joist.across) continue;
    if (a.size() > 1 && (a[1].value < joist.from || a[1].value > joist.to)) continue;
    if (!best || std::abs(joist.at - a[0].value) < std::abs(*best - a[0].value)) best = joist.at;
  }
  return best;
}

constexpr std::string_view kBox = "(x from, x to, z from, z to)";

const Question kQuestions[] = {
    {"clear_width", kBox,
     "Least free width between both walls, ribs and arches taken off, along a stretch of the van "
     "over a range of heights.",
     4, 4,
     [](const Vehicle& v, std::span<const Quantity> a) {
       const auto room = clear(v, a);
       return room ? std::optional(room->width()) : std::nullopt;
     }},
    {"clear_left", kBox, "y of what limits that width on the left.", 4, 4,
     [](const Vehicle& v, std::span<const Quantity> a) {
       const auto room = clear(v, a);
       return room ? std::optional(room->left) : std::nullopt;
     }},
    {"clear_right", kBox, "y of what limits that width on the right.", 4, 4,
     [](const Vehicle& v, std::span<const Quantity> a) {
       const auto room = clear(v, a);
       return room ? std::optional(room->right) : std::nullopt;
     }},
    {"clear_height", "(x from, x to, y from, y to)",
     "Least free height above the floor over a piece of the floor.", 4, 4,
     [](const Vehicle& v, std::span<const Quantity> a) {
       return clear_height(v, a[0].value, a[1].value, a[2].value, a[3].value);
     }},
    {"wall_left", "(x, z)", "y of the left wall's surface at a point.", 2, 2,
     [](const Vehicle& v, std::span<const Quantity> a) {
       return wall_y(v, VanSide::left, a[0].value, a[1].value);
     }},
    {"wall_right", "(x, z)", "y of the right wall's surface at a point.", 2, 2,
     [](const Vehicle& v, std::span<const Quantity> a) {
       return wall_y(v, VanSide::right, a[0].value, a[1].value);
     }},
    {"nearest_joist", "(x) or (x, y)",
     "x of the middle of the nearest joist across the van; with y, of those that run below it.", 1,
     2, joist_x},
    {"next_rib_left", "(x)", "x of the middle of the next rib in front of x, on the left.", 1, 1,
     [](const Vehicle& v, std::span<const Quantity> a) {
       return rib_x(next_rib(v, VanSide::left, a[0].value));
     }},
    {"next_rib_right", "(x)", "x of the middle of the next rib in front of x, on the right.", 1, 1,
     [](const Vehicle& v, std::span<const Quantity> a) {
       return rib_x(next_rib(v, VanSide::right, a[0].value));
     }},
    {"previous_rib_left", "(x)", "x of the middle of the last rib behind x, on the left.", 1, 1,
     [](const Vehicle& v, std::span<const Quantity> a) {
       return rib_x(previous_rib(v, VanSide::left, a[0].value));
     }},
    {"previous_rib_right", "(x)", "x of the middle of the last rib behind x, on the right.", 1, 1,
     [](const Vehicle& v, std::span<const Quantity> a) {
       return rib_x(previous_rib(v, VanSide::right, a[0].value));
     }},
};

std::optional<Lookup> wrong_arguments(std::string_view question, std::string_view usage,
                                      std::size_t fewest, std::size_t most,
                                      std::span<const Quantity> a) {
  const auto no_length =
      std::ranges::find_if(a, [](const Quantity& q) { return q.dimension != dimension::length; });
  if (a.size() >= fewest && a.size() <= most && no_length == a.end()) return std::nullopt;
  Finding finding;
  finding.code = "layout.wrong_arguments";
  finding.with("question", std::string(question))
      .with("usage", std::string(question) + std::string(usage));
  if (a.size() < fewest || a.size() > most) {
    finding.with("found", std::to_string(a.size()) + (a.size() == 1 ? " value" : " values"));
  } else {
    const bool plain = no_length->dimension == Dimension{};
    finding.with("found", "value " + std::to_string(no_length - a.begin() + 1) + " as " +
                              (plain ? "a plain number" : dimension_name(no_length->dimension)));
  }
  return Lookup::because(std::move(finding));
}

Lookup no_answer(const Vehicle& vehicle, std::string_view question) {
  Finding finding;
  const bool ribs = question.find("rib") != std::string_view::npos;
  const bool joists = question == "nearest_joist";
  finding.code = ribs || joists ? "layout.none_there" : "layout.no_answer";
  finding.with("question", std::string(question));
  if (ribs || joists) {
    finding.with("what", ribs ? "rib" : "joist across the van");
  } else {
    finding.with("rear", vehicle.x_min(), Unit::mm).with("front", vehicle.x_max(), Unit::mm);
  }
  return Lookup::because(std::move(finding));
}

}  // namespace

std::vector<std::string> questions(const Vehicle& vehicle) {
  std::vector<std::string> all;
  for (const Question& question : kQuestions) all.emplace_back(question.name);
  for (const Opening& opening : vehicle.openings) {
    all.push_back(std::string(kDistance) + opening.name);
  }
  return all;
}

Lookup answer(const Vehicle& vehicle, std::string_view question, std::span<const Quantity> a) {
  if (question.starts_with(kDistance)) {
    const Opening* opening = find_opening(vehicle, question.substr(kDistance.size()));
    if (opening == nullptr) return {};
    if (auto wrong = wrong_arguments(question, kBox, 4, 4, a)) return std::move(*wrong);
    const double mm =
        distance_to_opening(vehicle, *opening, a[0].value, a[1].value, a[2].value, a[3].value);
    return Lookup::of(mm, dimension::length);
  }
  const auto known = std::ranges::find(kQuestions, question, &Question::name);
  if (known == std::end(kQuestions)) return {};
  if (auto wrong = wrong_arguments(question, known->usage, known->fewest, known->most, a)) {
    return std::move(*wrong);
  }
  const auto value = known->answer(vehicle, a);
  return value ? Lookup::of(*value, dimension::length) : no_answer(vehicle, question);
}

}  // namespace ribbay::detail

namespace ribbay {

std::vector<VanQuestion> van_questions() {
  std::vector<VanQuestion> all;
  for (const detail::Question& question : detail::kQuestions) {
    all.push_back(
        {std::string(question.name) + std::string(question.usage), std::string(question.meaning)});
  }
  all.push_back({std::string(detail::kDistance) + "NAME" + std::string(detail::kBox),
                 "Distance from a box to the door opening of that name: straight in the plane of "
                 "a side door's wall, along the van for the rear one; 0 where it reaches it."});
  return all;
}

}  // namespace ribbay
