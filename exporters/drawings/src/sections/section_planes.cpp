#include "box_sight.hpp"
#include "drawings/sections.hpp"
#include "module_contents.hpp"
#include "scene.hpp"
#include "sections/fastener.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

namespace ribbay {

namespace {

constexpr double kHidden =
    0.2;  // of the largest face: of what is hidden no more is seen, edges, say
constexpr std::size_t kMostPlanes = 3;
constexpr double kApart = 1.5;             // mm between the plane and any face that lies along it
constexpr std::ptrdiff_t kWorthwhile = 2;  // hidden parts that a further plane must show
constexpr char kLetters[] = "ABC";

struct Span {
  double lo;
  double hi;
};

Span span(const Box& box, Vec3 axis) {
  Span s{0.0, 0.0};
  for (int i = 0; i < 3; ++i) {
    s.lo += std::min(box.lo[i] * axis[i], box.hi[i] * axis[i]);
    s.hi += std::max(box.lo[i] * axis[i], box.hi[i] * axis[i]);
  }
  return s;
}

struct Candidate {
  ViewFrame view;
  double at = 0.0;
  std::set<std::size_t> cut{};  ///< hidden parts that it cuts across
  std::ptrdiff_t along = 0;     ///< parts that it runs within
  std::ptrdiff_t fasteners = 0;
  double off_middle = 0.0;
};

class Planes {
 public:
  Planes(const Layout& layout, const Module& module)
      : layout_(layout), looks_(detail::looks_at(module.front, layout.project.first_angle)) {
    const detail::ModuleContents contents = detail::contents_of(layout, module);
    for (const auto* list : {&contents.fixed, &contents.movable, &contents.equipment})
      parts_.insert(parts_.end(), list->begin(), list->end());
    std::ranges::sort(parts_);
    for (const std::size_t i : parts_) {
      boxes_.push_back(bounds(layout.parts[i]));
      if (layout.parts[i].kind != PartKind::hardware) all_.add(boxes_.back());
    }
    find_hidden();
  }

  std::vector<SectionPlane> chosen() const {
    std::vector<SectionPlane> planes;
    std::set<std::size_t> open = hidden_;
    if (open.empty()) return planes;
    const std::vector<Candidate> candidates = all_candidates();
    while (!open.empty() && planes.size() < kMostPlanes) {
      const Candidate* best = nullptr;
      const auto worth = [&](const Candidate& c) {
        const auto fresh =
            std::ranges::count_if(c.cut, [&](std::size_t i) { return open.contains(i); });
        const std::ptrdiff_t least = planes.empty() ? 1 : kWorthwhile;
        return std::tuple(fresh < least ? -1000 : fresh - 2 * c.along, c.fasteners, -c.off_middle);
      };
      for (const Candidate& c : candidates) {
        if (best == nullptr || worth(c) > worth(*best)) best = &c;
      }
      if (best == nullptr || std::get<0>(worth(*best)) <= -1000) break;
      for (const std::size_t i : best->cut) open.erase(i);
      planes.push_back({kLetters[planes.size()], best->view, best->at});
    }
    return planes;
  }

 private:
  bool is_hardware(std::size_t n) const {
    return layout_.parts[parts_[n]].kind == PartKind::hardware;
  }

  void find_hidden() {
    const Vec3 front = looks_.front.towards_eye();
    const Vec3 right = looks_.front.right;
    const Vec3 up{0, 0, 1};
    const Vec3 eyes[] = {front, right, -right, up, front + right + up, front - right + up};
    for (std::size_t n = 0; n < parts_.size(); ++n) {
      const Part& part = layout_.parts[parts_[n]];
      if (!is_made(part.kind)) continue;
      std::vector<const Box*> others;
      for (std::size_t o = 0; o < parts_.size(); ++o) {
        if (o != n && !is_hardware(o)) others.push_back(&boxes_[o]);
      }
      const Vec3 size = boxes_[n].size();
      const double largest = std::max({size.x * size.y, size.y * size.z, size.z * size.x});
      const bool hidden = std::ranges::all_of(eyes, [&](Vec3 eye) {
        return detail::sight_of(boxes_[n], eye, others).seen <= kHidden * largest;
      });
      if (hidden || part.kind == PartKind::folded) hidden_.insert(n);
    }
  }

  std::vector<Candidate> all_candidates() const {
    std::vector<Candidate> out;
    for (const ViewFrame& view : {looks_.side, looks_.front, looks_.top}) {
      const Vec3 normal = view.towards_eye();
      std::vector<double> faces;
      std::vector<double> axes;  // of fasteners that lie across the normal
      for (std::size_t n = 0; n < parts_.size(); ++n) {
        const Span s = span(boxes_[n], normal);
        if (!is_hardware(n)) {
          faces.push_back(s.lo);
          faces.push_back(s.hi);
        } else if (detail::lies_across(layout_, layout_.parts[parts_[n]], normal)) {
          axes.push_back((s.lo + s.hi) / 2);
        }
      }
      std::ranges::sort(faces);
      std::ranges::sort(axes);
      std::vector<double> places = axes;
      for (std::size_t i = 1; i < faces.size(); ++i)
        places.push_back((faces[i - 1] + faces[i]) / 2);
      std::ranges::sort(places);
      double last = -1e300;
      for (const double at : places) {
        if (at - last < 0.01) continue;
        last = at;
        const auto near = std::ranges::lower_bound(faces, at - kApart);
        if (near != faces.end() && *near < at + kApart) continue;
        out.push_back(candidate(view, at, axes));
      }
    }
    return out;
  }

  Candidate candidate(const ViewFrame& view, double at, const std::vector<double>& axes) const {
    const Vec3 normal = view.towards_eye();
    Candidate c{view, at};
    for (std::size_t n = 0; n < parts_.size(); ++n) {
      if (is_hardware(n)) continue;
      const Span s = span(boxes_[n], normal);
      if (at <= s.lo || at >= s.hi) continue;
      const Part& part = layout_.parts[parts_[n]];
      if (!is_made(part.kind)) continue;
      const Vec3 size = boxes_[n].size();
      const bool across = s.hi - s.lo > 1.5 * std::min({size.x, size.y, size.z});
      if (!across) {
        ++c.along;
      } else if (hidden_.contains(n)) {
        c.cut.insert(n);
      }
    }
    c.fasteners =
        std::ranges::upper_bound(axes, at + 0.05) - std::ranges::lower_bound(axes, at - 0.05);
    const Span whole = span(all_, normal);
    c.off_middle = std::abs(at - (whole.lo + whole.hi) / 2) / (whole.hi - whole.lo);
    return c;
  }

  const Layout& layout_;
  detail::Looks looks_;
  std::vector<std::size_t> parts_;  ///< of the module, indices into Layout::parts
  std::vector<Box> boxes_;          ///< of each of them
  Box all_;
  std::set<std::size_t> hidden_;  ///< indices into parts_
};

}  // namespace

std::vector<SectionPlane> section_planes(const Layout& layout, const Module& module) {
  return Planes(layout, module).chosen();
}

}  // namespace ribbay
