// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/swing/part.h"

namespace lidwright {

/// Parts of one body made ready for clearance: their edges in one tree of bounding volumes. Build
/// once, use for every motion; the parts' motion plays no role here.
///
/// Slabs of a lid that lie side by side across the width differ little, so that a node of the tree
/// holds the same stretch of outline of many of them: what is far enough for all is told at once.
/// Such a node may hold slabs that do not lie side by side, so it knows which stretches of the
/// width its own slabs fill: by the first and the last of them alone, nearly all nodes of a box of
/// many stations would seem to meet, and their pairs be opened with the square of the stations.
class PartTree {
 public:
  explicit PartTree(Part part);
  /// Requires at least one part, all on one body.
  explicit PartTree(std::vector<Part> parts);

  Body body() const { return parts_[0].body; }
  const std::vector<Part>& parts() const { return parts_; }
  /// The only part. Requires that there is but one.
  const Part& part() const;

  struct Edge {  // from (a) to (b) at z_min (0) and z_max (1) of its part
    Vec2 a0, b0, a1, b1;
    Vec2 before0, before1;  // the vertex before a
    Vec2 after0, after1;    // the vertex after b
    int part = 0;
  };
  struct Node {
    Vec2 centre;  // every point of its edges, at any z, is within `radius` of it …
    double radius = 0.0;
    Vec2 from, to;  // … and within `around` of this segment
    double around = 0.0;
    double z_min_mm = 0.0, z_max_mm = 0.0;
    int first_stretch = 0, stretches = 0;  // of the width, that its parts fill
    int first = 0, count = 0;              // edges
    int left = -1, right = -1;             // children, -1 in a leaf
  };
  struct Stretch {
    double z_min_mm = 0.0, z_max_mm = 0.0;
  };
  const std::vector<Edge>& edges() const { return edges_; }
  const std::vector<Node>& nodes() const { return nodes_; }
  /// Of all nodes; those of one node by growing z and apart from each other.
  const std::vector<Stretch>& stretches() const { return stretches_; }
  double least_error_mm() const { return least_error_mm_; }
  double largest_error_mm() const { return largest_error_mm_; }

 private:
  void AddEdges(int part);
  int Build(std::vector<int>& order, const Node& node);
  Node Around(const std::vector<int>& order, int first, int count) const;
  void TellStretches(Node& node);

  std::vector<Part> parts_;
  std::vector<Edge> edges_;
  std::vector<Node> nodes_;
  std::vector<Stretch> stretches_;
  double least_error_mm_ = 0.0, largest_error_mm_ = 0.0;
};

/// Two trees on different bodies, and in them all pairs of parts whose z intervals overlap.
struct PartPair {
  const PartTree* first = nullptr;
  const PartTree* second = nullptr;
};

/// Do any two parts of the trees overlap in z in more than a point?
bool Overlap(const PartTree& p, const PartTree& q);

/// Do the stretches of two nodes share more than a point of z? Where none of them has a hole that
/// is what the nodes' own ends say.
bool StretchesMeet(const PartTree& p_tree, const PartTree::Node& p, const PartTree& q_tree,
                   const PartTree::Node& q);

/// Does any part below one node share more than a point of z with any part below the other?
inline bool Meet(const PartTree& p_tree, const PartTree::Node& p, const PartTree& q_tree,
                 const PartTree::Node& q) {
  if (!(p.z_min_mm < q.z_max_mm && q.z_min_mm < p.z_max_mm)) return false;
  return (p.stretches == 1 && q.stretches == 1) || StretchesMeet(p_tree, p, q_tree, q);
}

/// All pairs between two lists whose bodies differ and whose z intervals overlap.
std::vector<PartPair> PairsBetween(const std::vector<const PartTree*>& first,
                                   const std::vector<const PartTree*>& second);

}  // namespace lidwright
