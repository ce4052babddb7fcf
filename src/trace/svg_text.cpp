// SPDX-License-Identifier: Apache-2.0
#include "trace/svg_text.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "lidwright/base/units.h"

namespace lidwright {
namespace {

bool IsSpace(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}
bool IsDigit(char c) {
  return c >= '0' && c <= '9';
}
bool IsLetter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

// Walks over numbers, flags and command letters.
class Scanner {
 public:
  explicit Scanner(const std::string& text) : text_(text) {}

  std::size_t at() const { return at_; }
  bool AtEnd() const { return at_ >= text_.size(); }
  char Peek() const { return AtEnd() ? '\0' : text_[at_]; }
  char Take() { return text_[at_++]; }

  void SkipSpace() {
    while (IsSpace(Peek())) ++at_;
  }
  void SkipSeparator() {  // spaces with at most one comma among them
    SkipSpace();
    if (Peek() == ',') ++at_;
    SkipSpace();
  }
  bool NumberStarts() const {
    std::size_t i = at_;
    if (i < text_.size() && (text_[i] == '+' || text_[i] == '-')) ++i;
    if (i < text_.size() && text_[i] == '.') ++i;
    return i < text_.size() && IsDigit(text_[i]);
  }
  std::optional<double> Number() {
    if (!NumberStarts()) return std::nullopt;
    const char* begin = text_.data() + at_ + (Peek() == '+' ? 1 : 0);
    double value = 0.0;
    const auto [end, error] = std::from_chars(begin, text_.data() + text_.size(), value);
    if (error != std::errc() || !std::isfinite(value)) return std::nullopt;
    at_ = static_cast<std::size_t>(end - text_.data());
    return value;
  }
  std::optional<bool> Flag() {  // one digit, which the next number may follow at once
    if (Peek() != '0' && Peek() != '1') return std::nullopt;
    return Take() == '1';
  }
  std::string Word() {
    std::string word;
    while (IsLetter(Peek())) word += Take();
    return word;
  }

 private:
  const std::string& text_;
  std::size_t at_ = 0;
};

// Reads path data command by command.
class PathReader {
 public:
  PathReader(const std::string& text, std::optional<SvgTextFault>* fault)
      : in_(text), fault_(fault) {}

  std::vector<DrawnPath> Read() {
    in_.SkipSpace();
    char command = '\0';
    while (!in_.AtEnd()) {
      if (IsLetter(in_.Peek())) {
        command = in_.Peek();
        if (std::string("MmLlHhVvCcSsQqTtAaZz").find(command) == std::string::npos) {
          return Stop(std::string("'") + command + "' is no path command");
        }
        if (paths_.empty() && command != 'M' && command != 'm') {
          return Stop("path data must start with M or m");
        }
        in_.Take();
      } else if (command == '\0' || command == 'Z' || command == 'z') {
        return Stop("a command letter should stand here");
      } else if (command == 'M') {
        command = 'L';  // further pairs after a move are lines
      } else if (command == 'm') {
        command = 'l';
      }
      in_.SkipSpace();
      if (!Step(command)) return Stop("a number should stand here");
      in_.SkipSeparator();
    }
    return Finish();
  }

 private:
  std::vector<DrawnPath> Stop(const std::string& what) {
    if (!*fault_) *fault_ = SvgTextFault{in_.at(), what};
    return Finish();
  }
  std::vector<DrawnPath> Finish() {
    std::erase_if(paths_, [](const DrawnPath& path) { return path.pieces.empty(); });
    return std::move(paths_);
  }

  std::optional<double> Number() {
    const std::optional<double> number = in_.Number();
    if (number) in_.SkipSeparator();
    return number;
  }
  std::optional<Vec2> Point(bool relative) {
    const std::optional<double> x = Number();
    const std::optional<double> y = x ? Number() : std::nullopt;
    if (!y) return std::nullopt;
    return relative ? Vec2(here_ + Vec2(*x, *y)) : Vec2(*x, *y);
  }

  void StartSubpath(const Vec2& p) {
    paths_.emplace_back();
    start_ = here_ = p;
  }
  void Add(Piece piece, const Vec2& end) {
    if (paths_.back().closed) StartSubpath(start_);  // drawing goes on after z
    paths_.back().pieces.push_back(std::move(piece));
    here_ = end;
  }
  void AddBezier(std::vector<Vec2> points) {
    if (paths_.back().closed) StartSubpath(start_);
    points.insert(points.begin(), here_);
    const Vec2 end = points.back();
    Add(BezierPiece{std::move(points), {}}, end);
  }

  bool Step(char command) {
    const bool relative = command >= 'a';
    const char kind = relative ? static_cast<char>(command - 'a' + 'A') : command;
    const std::optional<Vec2> mirrored_cubic = last_cubic_, mirrored_quadratic = last_quadratic_;
    last_cubic_.reset();
    last_quadratic_.reset();
    switch (kind) {
      case 'Z':
        paths_.back().closed = true;
        if (here_ != start_) paths_.back().pieces.push_back(LinePiece(here_, start_));
        here_ = start_;
        return true;
      case 'H':
      case 'V': {
        const std::optional<double> number = Number();
        if (!number) return false;
        Vec2 end = here_;
        double& coordinate = kind == 'H' ? end.x() : end.y();
        coordinate = relative ? coordinate + *number : *number;
        AddBezier({end});
        return true;
      }
      case 'A':
        return StepArc(relative);
      default:
        return StepPoints(kind, relative, mirrored_cubic, mirrored_quadratic);
    }
  }

  bool StepPoints(char kind, bool relative, const std::optional<Vec2>& last_cubic,
                  const std::optional<Vec2>& last_quadratic) {
    const int count = kind == 'C' ? 3 : kind == 'S' || kind == 'Q' ? 2 : 1;
    std::vector<Vec2> points;
    for (int i = 0; i < count; ++i) {
      const std::optional<Vec2> p = Point(relative);
      if (!p) return false;
      points.push_back(*p);
    }
    if (kind == 'M') {
      StartSubpath(points[0]);
      return true;
    }
    if (kind == 'S') {
      points.insert(points.begin(), last_cubic ? Vec2(2.0 * here_ - *last_cubic) : here_);
    } else if (kind == 'T') {
      points.insert(points.begin(), last_quadratic ? Vec2(2.0 * here_ - *last_quadratic) : here_);
    }
    if (kind == 'C' || kind == 'S') last_cubic_ = points[1];
    if (kind == 'Q' || kind == 'T') last_quadratic_ = points[0];
    AddBezier(std::move(points));
    return true;
  }

  bool StepArc(bool relative) {
    const std::optional<double> rx = Number();
    const std::optional<double> ry = rx ? Number() : std::nullopt;
    const std::optional<double> turn_deg = ry ? Number() : std::nullopt;
    if (!turn_deg) return false;
    const std::optional<bool> large = in_.Flag();
    in_.SkipSeparator();
    const std::optional<bool> sweep = large ? in_.Flag() : std::nullopt;
    in_.SkipSeparator();
    const std::optional<Vec2> end = sweep ? Point(relative) : std::nullopt;
    if (!end) return false;
    std::optional<Piece> piece =
        EllipseArc(here_, *end, *rx, *ry, *turn_deg * kRadPerDeg, *large, *sweep);
    if (piece) Add(std::move(*piece), *end);
    return true;
  }

  Scanner in_;
  std::optional<SvgTextFault>* fault_;
  std::vector<DrawnPath> paths_;
  Vec2 start_ = Vec2::Zero(), here_ = Vec2::Zero();
  std::optional<Vec2> last_cubic_, last_quadratic_;  // control points that S and T mirror
};

std::optional<Affine> OneTransform(const std::string& kind, const std::vector<double>& a) {
  const std::size_t n = a.size();
  Affine affine;
  if (kind == "matrix" && n == 6) {
    affine.linear << a[0], a[2], a[1], a[3];
    affine.offset = {a[4], a[5]};
  } else if (kind == "translate" && (n == 1 || n == 2)) {
    affine = Translation({a[0], n == 2 ? a[1] : 0.0});
  } else if (kind == "scale" && (n == 1 || n == 2)) {
    affine = Scaling(a[0], n == 2 ? a[1] : a[0]);
  } else if (kind == "rotate" && n == 1) {
    affine = Rotation(a[0] * kRadPerDeg);
  } else if (kind == "rotate" && n == 3) {
    affine = Translation({a[1], a[2]}) * Rotation(a[0] * kRadPerDeg) * Translation({-a[1], -a[2]});
  } else if (kind == "skewX" && n == 1) {
    affine.linear(0, 1) = std::tan(a[0] * kRadPerDeg);
  } else if (kind == "skewY" && n == 1) {
    affine.linear(1, 0) = std::tan(a[0] * kRadPerDeg);
  } else {
    return std::nullopt;
  }
  return affine;
}

}  // namespace

std::vector<DrawnPath> ReadPathData(const std::string& d, std::optional<SvgTextFault>* fault) {
  return PathReader(d, fault).Read();
}

Affine ReadTransform(const std::string& text, std::optional<SvgTextFault>* fault) {
  Affine product;
  Scanner in(text);
  in.SkipSeparator();
  while (!in.AtEnd()) {
    const std::size_t at = in.at();
    const std::string kind = in.Word();
    in.SkipSpace();
    if (kind == "none" && in.AtEnd()) break;
    std::vector<double> numbers;
    bool good = in.Peek() == '(';
    if (good) {
      in.Take();
      in.SkipSpace();
      while (const std::optional<double> number = in.Number()) {
        numbers.push_back(*number);
        in.SkipSeparator();
      }
      good = in.Peek() == ')';
    }
    const std::optional<Affine> one = good ? OneTransform(kind, numbers) : std::nullopt;
    if (!one) {
      *fault = SvgTextFault{at, "no transform that can be read"};
      break;
    }
    in.Take();
    product = product * *one;
    in.SkipSeparator();
  }
  return product;
}

std::vector<double> ReadNumbers(const std::string& text, std::optional<SvgTextFault>* fault) {
  std::vector<double> numbers;
  Scanner in(text);
  in.SkipSpace();
  while (!in.AtEnd()) {
    const std::optional<double> number = in.Number();
    if (!number) {
      *fault = SvgTextFault{in.at(), "a number should stand here"};
      break;
    }
    numbers.push_back(*number);
    in.SkipSeparator();
  }
  return numbers;
}

std::optional<SvgLength> ReadSvgLength(const std::string& text) {
  Scanner in(text);
  in.SkipSpace();
  const std::optional<double> number = in.Number();
  if (!number) return std::nullopt;
  SvgLength length{*number, in.Peek() == '%' ? std::string(1, in.Take()) : in.Word()};
  in.SkipSpace();
  if (!in.AtEnd()) return std::nullopt;
  return length;
}

std::optional<Piece> EllipseArc(const Vec2& a, const Vec2& b, double rx, double ry, double turn_rad,
                                bool large, bool sweep) {
  if (a == b) return std::nullopt;
  rx = std::abs(rx);
  ry = std::abs(ry);
  if (rx == 0.0 || ry == 0.0) return LinePiece(a, b);
  // In the frame of the ellipse, scaled to a unit circle through both points.
  const Eigen::Matrix2d turn = Rotation(turn_rad).linear;
  const Vec2 half = turn.transpose() * (a - b) / 2.0;
  const double fit = std::hypot(half.x() / rx, half.y() / ry);
  if (fit > 1.0) {  // too small to reach: grown until it does (F.6.6)
    rx *= fit;
    ry *= fit;
  }
  const Vec2 h(half.x() / rx, half.y() / ry);
  const double h2 = h.squaredNorm();
  const double rise = std::sqrt(std::max(0.0, 1.0 - h2) / h2) * (large != sweep ? 1.0 : -1.0);
  const Vec2 centre(rise * h.y(), -rise * h.x());
  const Vec2 from = h - centre, to = -h - centre;
  const double start = std::atan2(from.y(), from.x());
  double turned = std::atan2(to.y(), to.x()) - start;
  if (sweep && turned < 0.0) turned += 2.0 * kPi;
  if (!sweep && turned > 0.0) turned -= 2.0 * kPi;
  const Vec2 u = turn * Vec2(rx, 0.0), v = turn * Vec2(0.0, ry);
  return ArcPiece{(a + b) / 2.0 + centre.x() * u + centre.y() * v, u, v, start, turned};
}

}  // namespace lidwright
