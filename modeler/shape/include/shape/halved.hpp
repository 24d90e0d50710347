#pragma once

#include "shape/facets.hpp"

#include <vector>

namespace ribbay {

/// What is left of a body when everything on one side of a plane is taken away.
struct Halved {
  /// Faces and edges that stay, then a face for each area that the plane lays bare, and its
  /// outline. A face that the plane cuts in two may be one whose loops run back along the plane:
  /// what lies inside it by the rule of odd crossings is right.
  Facets rest;
  /// Outlines of the bare areas in the plane, outer ones counter-clockwise seen from the side that
  /// was taken away, holes the other way. Those of the prisms of one shape may touch or overlap:
  /// inside is what they run round at least once.
  std::vector<std::vector<Vec3>> cut;
};

/// `facets` less all points p with dot(normal, p) >= offset, mm. Bores across a prism are circles
/// on its faces (see FacetOptions) and do not show in the cut. Precondition: `normal` is a unit
/// vector; the facets close.
Halved halved(const Facets& facets, Vec3 normal, double offset);

}  // namespace ribbay
