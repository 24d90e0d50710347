#include "plank_row.hpp"

#include "base/tolerance.hpp"
#include "layout/screw_hold.hpp"
#include "layout/wood.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <utility>

namespace ribbay::detail {

namespace {

/// A tongue must stay in its groove by this much at the driest. Common practice, no source.
constexpr double kLeastTongue = 1.0;

}  // namespace

PlankRow share_planks(double span, double cover, double gap, std::optional<double> first,
                      double least) {
  PlankRow row;
  double left = span;
  double width = std::min(first.value_or(cover), cover);
  while (left > kGrid) {
    row.widths.push_back(std::min(width, left));
    left -= row.widths.back() + gap;
    width = cover;
  }
  std::vector<double>& widths = row.widths;
  if (!first && widths.size() > 1 && widths.back() < least) {
    const double even = (widths.front() + widths.back()) / 2;
    widths.front() = even;
    widths.back() = even;
  }
  double at = 0.0;
  for (const double board : widths) {
    row.from.push_back(at);
    at += board + gap;
  }
  return row;
}

const Plank& PlankOrder::plank() const {
  return entry(request.catalogue.planks, fields.text("plank"));
}

Finding PlankOrder::fault(const char* code, const char* field) const {
  Finding finding = input_error(code, fields.place(field));
  finding.subjects = {subject};
  return finding;
}

std::optional<double> PlankOrder::gap() const {
  const std::vector<double>& range = fields.numbers("moisture");
  const double dry = range.front();
  const double wet = range.back();
  const double today = fields.number_if("today").value_or((dry + wet) / 2);
  if (dry < kDriestWood || wet > kWettestWood || dry > today || today > wet) {
    shop.find(fault("planks.moisture", "moisture")
                  .with("dry", dry, Unit::percent)
                  .with("today", today, Unit::percent)
                  .with("wet", wet, Unit::percent));
    return std::nullopt;
  }
  const Material& wood = entry(request.catalogue.materials, plank().material);
  const double coefficient = movement_coefficient(wood, plank().quarter_sawn);
  if (coefficient <= 0.0) {
    shop.find(fault("planks.no_movement", "plank").with("found", wood.key));
    return std::nullopt;
  }
  const double widest = wood_movement(plank().cover, coefficient, wet - dry);
  const double allowed = plank().tongue_length() - kLeastTongue;
  if (widest > allowed) {
    Finding finding = fault("planks.tongue_out", "plank");
    finding.source =
        "Wood Handbook, FPL-GTR-190, equation 13-2 and table 13-5; 1 mm of tongue in "
        "the groove: common practice, no source";
    shop.find(
        std::move(finding.with("measured", widest, Unit::mm).with("required", allowed, Unit::mm)));
  }
  return wood_movement(plank().cover, coefficient, wet - today);
}

std::optional<PlankRow> PlankOrder::row(double span, double gap) const {
  const double least = plank().cover * kLeastPlankShare;
  PlankRow row = share_planks(span, plank().cover, gap, fields.number_if("first"), least);
  for (const double width : row.widths) {
    if (width >= least - kSame) continue;
    const double both = row.widths.front() + row.widths.back();
    Finding finding = fault("planks.narrow_board", "first");
    finding.with("measured", width, Unit::mm).with("required", least, Unit::mm);
    if (both / 2 >= least) finding.with("even", both / 2, Unit::mm);
    shop.find(std::move(finding));
    return std::nullopt;
  }
  return row;
}

bool PlankOrder::screw_fits(const Bolt& screw, double behind) const {
  const double longest = behind + plank().thickness - kScrewSkin;
  const double shortest = behind + kScrewHold * screw.diameter;
  if (screw.length >= shortest - kSame && screw.length <= longest + kSame) return true;
  const bool is_short = screw.length < shortest;
  shop.find(fault(is_short ? "planks.screw_short" : "planks.screw_comes_out", "screw")
                .with("stock", screw.key)
                .with("measured", screw.length, Unit::mm)
                .with("required", is_short ? shortest : longest, Unit::mm));
  return false;
}

RowBoard row_board(const PlankOrder& order, const PlankRow& row, std::size_t index, Vec3 edge,
                   Vec3 across, Vec3 face) {
  const Plank& plank = order.plank();
  const bool last = index + 1 == row.widths.size();
  const double from = row.from[index];
  const double to = from + row.widths[index];
  const bool ripped = index == 0 && row.widths[index] < plank.cover - kSame;
  // A board is ripped from its groove, the last one from its tongue.
  const double groove_edge = ripped ? to - plank.cover : from;
  const double tongue = last ? 0.0 : plank.tongue_length();
  return {.board = {.name = {},
                    .title = "Plank",
                    .plank = &plank,
                    .frame = {edge + across * groove_edge, cross(across, face), across, face},
                    .outline = {},
                    .tongue = !last,
                    .groove = !ripped,
                    .order = static_cast<int>(index) + 1},
          .from = from - groove_edge,
          .to = to + tongue - groove_edge,
          .middle = (from + to) / 2 - groove_edge};
}

std::vector<Field> plank_fields(std::string what, std::string screw) {
  return {reference_field("plank", "plank").needed().means(std::move(what)),
          length_field("first").above(0).means(
              "what the first board covers; by default a whole board, or half of what the first "
              "and the last have when the last would be narrower than a third"),
          FieldMaker{"moisture", FieldKind::quantities, dimension::none}
              .items(2, 2)
              .otherwise("[8, 14]")
              .means("driest and wettest that the boards will be, in percent of their dry mass, "
                     "within 6 to 14"),
          quantity_field("today", dimension::none)
              .means("moisture when they are laid, in percent; by default the middle"),
          reference_field("screw", kWoodScrew).means(std::move(screw)),
          flag_field("glued").otherwise("false").means("true: the boards are glued on")};
}

}  // namespace ribbay::detail
