// SPDX-License-Identifier: Apache-2.0
#include "trace/join_paths.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <tuple>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// So many dangling ends are looked at for lines that they touch: a section has a few.
constexpr int kMostSplits = 1000;

// One open path, its ends at nodes.
struct Edge {
  FlatPath path;
  std::size_t node[2] = {0, 0};
  bool gone = false;
};

void DropRepeats(std::vector<Vec2>* points, bool closed) {
  const auto same = [](const Vec2& a, const Vec2& b) { return (a - b).norm() <= kSamePoint_mm; };
  points->erase(std::unique(points->begin(), points->end(), same), points->end());
  while (closed && points->size() > 1 && same(points->front(), points->back())) points->pop_back();
}

bool SamePoints(const std::vector<Vec2>& a, const std::vector<Vec2>& b, bool closed) {
  if (a.size() != b.size()) return false;
  const std::size_t n = a.size();
  for (const bool reversed : {false, true}) {
    for (std::size_t start = 0; start < (closed ? n : 1); ++start) {
      bool same = true;
      for (std::size_t i = 0; same && i < n; ++i) {
        const std::size_t k = reversed ? n - 1 - i : i;
        same = (a[i] - b[(k + start) % n]).norm() <= kTouch_mm;
      }
      if (same) return true;
    }
  }
  return false;
}

// Pairs (i, j), i < j, of points within `reach` of each other, by a sweep along x.
std::vector<std::pair<std::size_t, std::size_t>> NearPairs(const std::vector<Vec2>& points,
                                                           double reach) {
  std::vector<std::size_t> order(points.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    return std::pair(points[i].x(), i) < std::pair(points[j].x(), j);
  });
  std::vector<std::pair<std::size_t, std::size_t>> pairs;
  for (std::size_t i = 0; i < order.size(); ++i) {
    for (std::size_t j = i + 1; j < order.size(); ++j) {
      if (points[order[j]].x() - points[order[i]].x() > reach) break;
      if ((points[order[j]] - points[order[i]]).norm() > reach) continue;
      pairs.emplace_back(std::minmax(order[i], order[j]));
    }
  }
  return pairs;
}

class Joiner {
 public:
  Joiner(std::vector<FlatPath> paths, double gap_limit_mm, const std::string& file_name,
         bool boards)
      : gap_limit_mm_(gap_limit_mm), file_name_(file_name), boards_(boards) {
    int twice = 0, points = 0;
    for (FlatPath& path : paths) {
      DropRepeats(&path.points, path.closed);
      const std::size_t n = path.points.size();
      if (n < 2 || (path.closed && n < 3)) {
        ++points;
      } else if (AlreadyThere(path)) {
        ++twice;
      } else if (path.closed) {
        AddLoop(path.points, path, false, true, path.chord_error_mm);
      } else {
        edges_.push_back({std::move(path), {0, 0}, false});
      }
    }
    if (twice > 0) {
      out_.notes.push_back(std::to_string(twice) + (twice == 1 ? " line" : " lines") +
                           " drawn twice: counted once");
    }
    if (points > 0) {
      out_.notes.push_back(std::to_string(points) + " without length left out");
    }
  }

  Joined Join() {
    SplitAtTouchingEnds();
    FindNodes();
    CloseGaps();
    if (boards_) CloseAlongLoops();
    PruneDangling();
    TakeFaces();
    return std::move(out_);
  }

 private:
  // Paths are remembered by the place of their lower left corner, so that few are compared.
  bool AlreadyThere(const FlatPath& path) {
    const Vec2 low = Bounds(path.points).low;
    const auto cell = [](double x, int step) { return std::floor(x / 1.0 + 0.5 * step); };
    for (const int dx : {0, 1}) {
      for (const int dy : {0, 1}) {
        for (const std::size_t i : seen_[{dx, dy, cell(low.x(), dx), cell(low.y(), dy)}]) {
          const FlatPath& other = kept_[i];
          if (other.closed == path.closed && SamePoints(other.points, path.points, path.closed)) {
            return true;
          }
        }
      }
    }
    for (const int dx : {0, 1}) {
      for (const int dy : {0, 1}) {
        seen_[{dx, dy, cell(low.x(), dx), cell(low.y(), dy)}].push_back(kept_.size());
      }
    }
    kept_.push_back(path);
    return false;
  }

  void AddLoop(Ring ring, const FlatPath& path, bool from_net, bool drawn_closed,
               double chord_error_mm) {
    DropRepeats(&ring, true);
    if (ring.size() < 3) return;
    if (SignedArea(ring) < 0.0) std::reverse(ring.begin(), ring.end());
    out_.loops.push_back(
        {std::move(ring), path.label, path.line, from_net, drawn_closed, chord_error_mm});
  }

  Vec2 End(std::size_t end) const {  // end 2 i is the first point of edge i, 2 i + 1 the last
    const std::vector<Vec2>& points = edges_[end / 2].path.points;
    return end % 2 == 0 ? points.front() : points.back();
  }
  std::size_t& NodeOf(std::size_t end) { return edges_[end / 2].node[end % 2]; }

  void SplitAtTouchingEnds() {
    std::vector<Vec2> ends;
    for (std::size_t e = 0; e < 2 * edges_.size(); ++e) ends.push_back(End(e));
    std::vector<int> partners(ends.size(), 0);
    int looked = 0;
    for (const auto& [i, j] : NearPairs(ends, kTouch_mm)) ++partners[i], ++partners[j];
    for (std::size_t e = 0; e < ends.size(); ++e) {
      if (partners[e] > 0 || ++looked > kMostSplits) continue;
      const std::size_t before = edges_.size();
      for (std::size_t k = 0; k < before; ++k) {
        if (SplitAt(k, ends[e])) break;
      }
    }
  }

  // Cuts edge k in two where p lies on it away from its ends.
  bool SplitAt(std::size_t k, const Vec2& p) {
    const std::vector<Vec2>& whole = edges_[k].path.points;
    if (std::min((p - whole.front()).norm(), (p - whole.back()).norm()) <= kTouch_mm) return false;
    for (std::size_t i = 0; i + 1 < whole.size(); ++i) {
      if ((NearestOnSegment(p, whole[i], whole[i + 1]) - p).norm() > kTouch_mm) continue;
      const std::vector<Vec2> points = whole;
      Edge rest = edges_[k];
      const auto cut = static_cast<std::ptrdiff_t>(i) + 1;
      rest.path.points.assign(points.begin() + cut, points.end());
      rest.path.points.insert(rest.path.points.begin(), p);
      edges_[k].path.points.resize(i + 1);
      edges_[k].path.points.push_back(p);
      DropRepeats(&rest.path.points, false);
      DropRepeats(&edges_[k].path.points, false);
      edges_.push_back(std::move(rest));
      return true;
    }
    return false;
  }

  void FindNodes() {
    std::vector<Vec2> ends;
    for (std::size_t e = 0; e < 2 * edges_.size(); ++e) ends.push_back(End(e));
    std::vector<std::size_t> root(ends.size());
    std::iota(root.begin(), root.end(), std::size_t{0});
    const auto find = [&](std::size_t i) {
      while (root[i] != i) i = root[i] = root[root[i]];
      return i;
    };
    for (const auto& [i, j] : NearPairs(ends, kTouch_mm)) {
      const std::size_t a = find(i), b = find(j);
      root[std::max(a, b)] = std::min(a, b);
    }
    degree_.assign(ends.size(), 0);
    place_ = ends;
    for (std::size_t e = 0; e < ends.size(); ++e) {
      NodeOf(e) = find(e);
      ++degree_[NodeOf(e)];
    }
  }

  void CloseGaps() {
    std::vector<std::size_t> dangling;
    std::vector<Vec2> places;
    for (std::size_t node = 0; node < degree_.size(); ++node) {
      if (degree_[node] != 1) continue;
      dangling.push_back(node);
      places.push_back(place_[node]);
    }
    auto pairs = NearPairs(places, gap_limit_mm_);
    const auto gap = [&](const std::pair<std::size_t, std::size_t>& pair) {
      return (places[pair.first] - places[pair.second]).norm();
    };
    std::stable_sort(pairs.begin(), pairs.end(),
                     [&](const auto& p, const auto& q) { return gap(p) < gap(q); });
    for (const auto& pair : pairs) {
      const std::size_t a = dangling[pair.first], b = dangling[pair.second];
      if (degree_[a] != 1 || degree_[b] != 1) continue;
      Connect(a, b);
      out_.notes.push_back("a gap of " + Text(gap(pair)) + " mm closed at " + PlaceText(place_[a]));
    }
  }

  // A straight edge between two nodes.
  void Connect(std::size_t a, std::size_t b) {
    Edge edge;
    edge.path.points = {place_[a], place_[b]};
    edge.node[0] = a;
    edge.node[1] = b;
    ++degree_[a], ++degree_[b];
    edges_.push_back(std::move(edge));
  }

  // The two dangling nodes of a chain of edges, by either of them.
  std::size_t OtherEndOf(std::size_t node) const {
    std::size_t at = node, last = edges_.size();
    while (true) {
      std::size_t next = edges_.size();
      for (std::size_t i = 0; i < edges_.size(); ++i) {
        if (i != last && (edges_[i].node[0] == at || edges_[i].node[1] == at)) next = i;
      }
      if (next == edges_.size()) return at;
      at = edges_[next].node[edges_[next].node[0] == at ? 1 : 0];
      last = next;
      if (degree_[at] != 2) return at;
    }
  }

  void CloseAlongLoops() {
    const std::size_t loops = out_.loops.size();
    for (std::size_t node = 0; node < degree_.size(); ++node) {
      if (degree_[node] != 1) continue;
      const std::size_t other = OtherEndOf(node);
      if (other == node || degree_[other] != 1) continue;
      for (std::size_t k = 0; k < loops && degree_[node] == 1; ++k) {
        const Ring& ring = out_.loops[k].ring;
        for (std::size_t i = 0; i < ring.size(); ++i) {
          const auto on_edge = [&](const Vec2& p) {
            return (NearestOnSegment(p, ring[i], ring[(i + 1) % ring.size()]) - p).norm() <=
                   kTouch_mm;
          };
          if (!on_edge(place_[node]) || !on_edge(place_[other])) continue;
          Connect(node, other);
          break;
        }
      }
    }
  }

  void PruneDangling() {
    for (const Edge& edge : edges_) {
      for (const std::size_t node : edge.node) {
        if (degree_[node] == 1) DescribeOpenEnd(node, edge.path);
      }
    }
    for (bool changed = true; changed;) {
      changed = false;
      for (Edge& edge : edges_) {
        if (edge.gone || (degree_[edge.node[0]] > 1 && degree_[edge.node[1]] > 1)) continue;
        edge.gone = changed = true;
        --degree_[edge.node[0]], --degree_[edge.node[1]];
      }
    }
  }

  void DescribeOpenEnd(std::size_t node, const FlatPath& path) {
    if (out_.open_ends.size() >= kMostProblems) return;
    double nearest = 1e300;
    std::size_t other = node;
    for (std::size_t n = 0; n < degree_.size(); ++n) {
      if (n == node || degree_[n] == 0) continue;
      const double distance = (place_[n] - place_[node]).norm();
      if (distance < nearest) nearest = distance, other = n;
    }
    std::string hint;
    if (other != node) {
      hint =
          "the nearest other end is " + Text(nearest) + " mm away at " + PlaceText(place_[other]);
    }
    out_.open_ends.push_back({file_name_, path.line, path.label, "",
                              "has an open end at " + PlaceText(place_[node]), hint});
  }

  // Faces of the net of edges: along each edge and, at its end, on along the edge next to the
  // right of the way back, so that each face lies to the left of its run.
  void TakeFaces() {
    std::vector<std::vector<std::size_t>> leaving(degree_.size());  // half edge 2 i + (reversed)
    for (std::size_t i = 0; i < edges_.size(); ++i) {
      if (edges_[i].gone) continue;
      leaving[edges_[i].node[0]].push_back(2 * i);
      leaving[edges_[i].node[1]].push_back(2 * i + 1);
    }
    for (auto& halves : leaving) {
      std::sort(halves.begin(), halves.end(), [&](std::size_t a, std::size_t b) {
        return std::pair(Bearing(a), a) < std::pair(Bearing(b), b);
      });
    }
    bool any_net = false;
    std::vector<bool> walked(2 * edges_.size(), false);
    for (std::size_t first = 0; first < walked.size(); ++first) {
      if (walked[first] || edges_[first / 2].gone) continue;
      Ring ring;
      bool net = false;
      double chord_error_mm = 0.0;
      for (std::size_t half = first; !walked[half];) {
        walked[half] = true;
        chord_error_mm = std::max(chord_error_mm, edges_[half / 2].path.chord_error_mm);
        std::vector<Vec2> points = edges_[half / 2].path.points;
        if (half % 2 == 1) std::reverse(points.begin(), points.end());
        ring.insert(ring.end(), points.begin(), points.end() - 1);
        const auto& halves = leaving[edges_[half / 2].node[1 - half % 2]];
        const auto back = std::find(halves.begin(), halves.end(), half ^ 1u);
        const auto at = static_cast<std::size_t>(back - halves.begin());
        half = halves[(at + halves.size() - 1) % halves.size()];
        net = net || halves.size() > 2;
      }
      const FlatPath& path = edges_[first / 2].path;
      if (SignedArea(ring) > 0.0) AddLoop(ring, path, net, false, chord_error_mm);
      any_net = any_net || net;
    }
    for (const Edge& edge : edges_) {
      if (!any_net || edge.gone) continue;
      out_.net_lines.push_back(edge.path);
      out_.net_lines.back().points.front() = place_[edge.node[0]];
      out_.net_lines.back().points.back() = place_[edge.node[1]];
    }
  }

  double Bearing(std::size_t half) const {
    const std::vector<Vec2>& points = edges_[half / 2].path.points;
    const std::size_t n = points.size();
    const Vec2 step = half % 2 == 0 ? points[1] - points[0] : points[n - 2] - points[n - 1];
    return std::atan2(step.y(), step.x());
  }

  double gap_limit_mm_;
  const std::string& file_name_;
  const bool boards_;
  // By two grids of 1 mm in each direction, half a cell apart: near points share a cell in one.
  std::map<std::tuple<int, int, double, double>, std::vector<std::size_t>> seen_;
  std::vector<FlatPath> kept_;
  std::vector<Edge> edges_;
  std::vector<int> degree_;  // of nodes, each numbered as one of its ends
  std::vector<Vec2> place_;
  Joined out_;
};

}  // namespace

std::string PlaceText(const Vec2& p) {
  return "(" + Text(p.x()) + ", " + Text(p.y()) + ")";
}

Joined JoinPaths(std::vector<FlatPath> paths, double gap_limit_mm, const std::string& file_name,
                 bool boards) {
  return Joiner(std::move(paths), gap_limit_mm, file_name, boards).Join();
}

}  // namespace lidwright
