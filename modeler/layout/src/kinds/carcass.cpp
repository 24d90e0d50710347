#include "carcass.hpp"

#include "base/tolerance.hpp"
#include "catalogue/far_end.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace ribbay::detail {

double dado_depth(const Sheet& sheet) {
  return std::max(std::floor(sheet.thickness / 1.5) / 2, 1.0);
}

Finding fault(std::string code, const AskedBy& asked) {
  Finding finding =
      input_error(std::move(code),
                  asked.field.empty() ? asked.fields.place() : asked.fields.place(asked.field));
  std::string subject = asked.path;
  if (!asked.field.empty()) subject.append(".").append(asked.field);
  finding.subjects = {std::move(subject)};
  return finding;
}

bool names_item(const Carcass& carcass, const AskedBy& asked, const std::string& field) {
  if (carcass.request.fields.has(field)) return true;
  carcass.shop.find(fault("carcass.item_missing", asked)
                        .with("item", field)
                        .with("field", carcass.request.name + "." + field));
  return false;
}

bool is_too_small(const Carcass& carcass, const char* field, double needed, double measured) {
  if (measured >= needed) return false;
  carcass.shop.find(
      fault("carcass.too_small", {carcass.request.fields, carcass.request.name, field})
          .with("axis", field)
          .with("measured", measured, Unit::mm)
          .with("required", needed, Unit::mm));
  return true;
}

std::vector<double> spread(double from, double to, double pitch) {
  if (to < from + kSame) return {(from + to) / 2};
  const int gaps = static_cast<int>(std::ceil((to - from) / pitch - kSame));
  std::vector<double> places;
  for (int i = 0; i <= gaps; ++i) places.push_back(from + (to - from) * i / gaps);
  return places;
}

std::vector<Bay> bays_of(const Record& fields, const char* field) {
  std::vector<Bay> bays;
  for (const auto& [key, own] : fields.tables(field)) {
    bays.push_back({.key = key, .fields = &own, .left_board = {}, .right_board = {}});
  }
  return bays;
}

bool divide_width(const Carcass& carcass, const char* field, std::vector<Bay>& bays,
                  const std::vector<double>& spacers, double t) {
  double available = carcass.request.size.x - spacers.back() - t;
  double fixed = 0.0;
  std::vector<Size> sizes;
  for (std::size_t i = 0; i < bays.size(); ++i) {
    const double spacer = spacers[i];
    available -= spacer + (i > 0 && spacer > 0.0 ? 2 * t : t);
    sizes.push_back(bays[i].fields->sizes("width").front());
    fixed += sizes.back().mm;
  }
  const auto widths = share_out(sizes, available);
  if (!widths || std::ranges::min(*widths) <= 0.0 ||
      std::abs(std::accumulate(widths->begin(), widths->end(), -available)) > kContact) {
    carcass.shop.find(
        fault("carcass.widths_do_not_fit", {carcass.request.fields, carcass.request.name, field})
            .with("measured", fixed, Unit::mm)
            .with("required", available, Unit::mm)
            .with("difference", std::abs(fixed - available), Unit::mm));
    return false;
  }
  double x = 0.0;  // right face of the last board
  for (std::size_t i = 0; i < bays.size(); ++i) {
    const double spacer = spacers[i];
    if (i == 0 || spacer > 0.0) x += spacer + t;
    bays[i].left = x;
    bays[i].right = x + (*widths)[i];
    x = bays[i].right + t;
  }
  return true;
}

void divide_fronts(const Carcass& carcass, std::vector<Bay>& bays,
                   const std::vector<double>& spacers, double t, double gap) {
  for (std::size_t i = 0; i < bays.size(); ++i) {
    Bay& bay = bays[i];
    const bool first = i == 0;
    const bool last = i + 1 == bays.size();
    const bool spacer_left = spacers[i] > 0.0;
    const bool spacer_right = spacers[i + 1] > 0.0;
    bay.left_free = first || spacer_left;
    bay.right_free = last || spacer_right;
    bay.left_board = first         ? "side." + carcass.side(true)
                     : spacer_left ? "side." + bay.key
                                   : "divider." + bays[i - 1].key;
    bay.right_board = last ? "side." + carcass.side(false) : "divider." + bay.key;
    const bool ends_left = first && !spacer_left;  // nothing stands beside the front there
    const bool ends_right = last && !spacer_right;
    bay.front_left = ends_left ? bay.left - t + gap : bay.left - t / 2 + gap / 2;
    bay.front_right = ends_right ? bay.right + t - gap : bay.right + t / 2 - gap / 2;
  }
}

std::vector<std::string> screw_end(const Carcass& carcass, const std::string& upright, bool at_left,
                                   const std::string& into, const std::vector<EndScrew>& screws) {
  const Box& box = carcass.joinery.board(upright).box;
  const double outside = at_left ? box.lo.x : box.hi.x;
  std::vector<std::string> ids;
  for (const EndScrew& screw : screws) {
    ids.push_back(
        carcass.joinery.screw({.name = into + ".screw." + carcass.side(at_left) + "_" + screw.place,
                               .field = "screw",
                               .at = {outside, screw.y, screw.z},
                               .direction = {at_left ? 1.0 : -1.0, 0, 0},
                               .from = upright,
                               .into = into}));
  }
  return ids;
}

std::vector<std::string> screw_on(const Carcass& carcass, const std::string& name,
                                  const Fitting& fitting, const Frame& frame,
                                  const std::string& board, const std::string& screw_field,
                                  bool folded) {
  std::vector<std::string> ids{carcass.shop.add_fitting(name, fitting, frame, {board}, folded)};
  if (fitting.cut_out > 0.0) {
    Board& carrier = carcass.joinery.board(board);
    carrier.holes.push_back({.at = frame.origin,
                             .direction = -frame.z,
                             .diameter = fitting.cut_out,
                             .depth = carrier.sheet->thickness,
                             .through = true,
                             .role = BoreRole::access,
                             .thread = {}});
  }
  for (const FixingHole& hole : fitting.holes) {
    if (is_far_end(hole)) continue;
    ids.push_back(carcass.joinery.screw({.name = name + ".screw." + hole.name,
                                         .field = screw_field,
                                         .at = frame.point(hole.at),
                                         .direction = frame.direction(hole.direction),
                                         .from = name,
                                         .into = board}));
  }
  return ids;
}

std::vector<std::string> add_stay(const Carcass& carcass, const AskedBy& asked,
                                  const StayPlace& place) {
  if (!names_item(carcass, asked, "stay_screw")) return {};
  const Fitting& stay = bought(carcass.request, carcass.request.catalogue.fittings,
                               carcass.request.fields.text("stay"));
  const Box size = bounds(body_shape(stay.boxes, stay.rounds));
  const double length = size.hi.y - size.lo.y;
  if (length > place.room + kSame) {
    carcass.shop.find(fault("carcass.stay_no_room", asked)
                          .with("stay", stay.key)
                          .with("measured", length, Unit::mm)
                          .with("required", place.room, Unit::mm));
    return {};
  }
  const Vec3 origin = place.middle - place.along * ((size.lo.y + size.hi.y) / 2);
  return screw_on(carcass, place.name, stay,
                  frame_zx(origin, place.out, cross(place.along, place.out)), place.board,
                  "stay_screw");
}

}  // namespace ribbay::detail
