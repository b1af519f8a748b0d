// What the Flexible Collision Library says of readings of an arm's joints, by a chain of joints of its own (Rodrigues' formula). A case is:
// the number of joints, and of each its axis and a point of it; the number of limbs, and of each how many joints are before it,
// and "capsule" with its ends and radius, or "box" with its sides and middle, along the base's axes with all joints at 0; the
// number of boxes that stand, each with its sides, the columns of its turn, and its middle; the number of triangles of
// readings in degrees, each with its three corners, of which two may be the same; how closely they are looked at, and how much
// smaller the limbs are to be there; and readings at which to look at them as they are. The answer is whether anything collides
// in the triangles, and whether it does at the readings.

#include <algorithm>
#include <cmath>
#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/capsule.h>
#include <fcl/narrowphase/collision.h>

using Vector = fcl::Vector3d;
using Pose = fcl::Transform3d;

Vector vector() {
  Vector v;
  std::cin >> v[0] >> v[1] >> v[2];
  return v;
}

struct Joint { Vector axis, point; };
struct Limb { int behind; bool round; Vector a, b; double radius; };
struct Room { std::shared_ptr<fcl::CollisionGeometryd> shape; Pose at; };

Pose turned(const Joint& j, double degrees) {
  Pose p = Pose::Identity();
  p.linear() = Eigen::AngleAxisd(degrees * M_PI / 180, j.axis.normalized()).toRotationMatrix();
  p.translation() = j.point - p.linear() * j.point;
  return p;
}

// shape is a limb that is smaller by so much all around, and where it is.
Room shape(const Limb& l, double less) {
  Room out{nullptr, Pose::Identity()};
  if (!l.round) {
    const Vector sides = l.a - Vector::Constant(2 * less);
    if (sides.minCoeff() <= 0) return out;
    out.shape = std::make_shared<fcl::Boxd>(sides);
    out.at.translation() = l.b;
    return out;
  }
  if (l.radius <= less) return out;
  const Vector way = l.b - l.a;
  out.shape = std::make_shared<fcl::Capsuled>(l.radius - less, way.norm());
  out.at.linear() = Eigen::Quaterniond::FromTwoVectors(Vector::UnitZ(), way).toRotationMatrix();
  out.at.translation() = (l.a + l.b) / 2;
  return out;
}

bool collides(const std::vector<Joint>& joints, const std::vector<Limb>& limbs, const std::vector<Room>& shapes, const std::vector<Room>& rooms,
              const std::vector<double>& q) {
  std::vector<Pose> links(1, Pose::Identity());
  for (size_t i = 0; i < joints.size(); i++) links.push_back(links.back() * turned(joints[i], q[i]));
  for (size_t i = 0; i < limbs.size(); i++) {
    if (!shapes[i].shape) continue;
    const Pose at = links[limbs[i].behind] * shapes[i].at;
    for (const Room& r : rooms) {
      fcl::CollisionResultd result;
      if (fcl::collide(shapes[i].shape.get(), at, r.shape.get(), r.at, fcl::CollisionRequestd(), result) > 0) return true;
    }
  }
  return false;
}

// steps is in how many a way is gone, of so many degrees at the most; 0 where it is none.
int steps(const std::vector<double>& from, const std::vector<double>& to, double most) {
  double longest = 0;
  for (size_t i = 0; i < from.size(); i++) longest = std::max(longest, std::abs(to[i] - from[i]));
  return int(std::ceil(longest / most));
}

int main() {
  std::cout << "fcl " FCL_VERSION ", g++ " __VERSION__ << '\n';
  size_t n;
  while (std::cin >> n) {
    std::vector<Joint> joints(n);
    for (Joint& j : joints) j.axis = vector(), j.point = vector();
    std::cin >> n;
    std::vector<Limb> limbs(n);
    for (Limb& l : limbs) {
      std::string kind;
      std::cin >> l.behind >> kind;
      l.round = kind == "capsule";
      l.a = vector(), l.b = vector(), l.radius = 0;
      if (l.round) std::cin >> l.radius;
    }
    std::cin >> n;
    std::vector<Room> rooms(n);
    for (Room& r : rooms) {
      const Vector sides = vector();
      r.shape = std::make_shared<fcl::Boxd>(sides);
      r.at = Pose::Identity();
      for (int column = 0; column < 3; column++) r.at.linear().col(column) = vector();
      r.at.translation() = vector();
    }
    const auto readings = [&] { std::vector<double> q(joints.size()); for (double& v : q) std::cin >> v; return q; };
    std::cin >> n;
    std::vector<std::vector<double>> triangles;
    for (size_t i = 0; i < 3 * n; i++) triangles.push_back(readings());
    double step, less;
    std::cin >> step >> less;
    const auto at = readings();
    std::vector<Room> whole, smaller;
    for (const Limb& l : limbs) whole.push_back(shape(l, 0)), smaller.push_back(shape(l, less));
    bool on = false;
    for (size_t i = 0; i < triangles.size() && !on; i += 3) {
      const auto &a = triangles[i], &b = triangles[i + 1], &c = triangles[i + 2];
      const int out = std::max(1, steps(a, b, step)), across = steps(b, c, step);
      for (int k = 0; k <= out && !on; k++) {
        const int side = (across * k + out - 1) / out;
        for (int m = 0; m <= side && !on; m++) {
          auto q = a;
          const double u = double(k) / out, v = side ? double(m) / side : 0;
          for (size_t j = 0; j < q.size(); j++) q[j] += u * (b[j] - a[j] + v * (c[j] - b[j]));
          on = collides(joints, limbs, smaller, rooms, q);
        }
      }
    }
    std::cout << on << ' ' << collides(joints, limbs, whole, rooms, at) << '\n';
  }
}
