// What the Flexible Collision Library says of pairs of convex solids, a pair a line:
// whether they collide, and how far they are apart, where the line begins with "depth" below
// 0 for how deep they are in each other. A solid is "box", its sides, the three columns of its turn and its middle; or "hull",
// how many points it has, and the points.

#include <iostream>
#include <memory>
#include <string>
#include <vector>

#include <fcl/geometry/shape/box.h>
#include <fcl/geometry/shape/convex.h>
#include <fcl/narrowphase/collision.h>
#include <fcl/narrowphase/distance.h>

using Vector = fcl::Vector3d;

Vector vector() {
  Vector v;
  std::cin >> v[0] >> v[1] >> v[2];
  return v;
}

std::unique_ptr<fcl::CollisionObjectd> box() {
  const Vector sides = vector();
  fcl::Transform3d at = fcl::Transform3d::Identity();
  for (int column = 0; column < 3; column++) at.linear().col(column) = vector();
  at.translation() = vector();
  return std::make_unique<fcl::CollisionObjectd>(std::make_shared<fcl::Boxd>(sides), at);
}

// A hull of up to 32 points is asked for the farthest of them alone, never for its faces.
std::unique_ptr<fcl::CollisionObjectd> hull() {
  int n;
  std::cin >> n;
  auto points = std::make_shared<std::vector<Vector>>();
  while (n-- > 0) points->push_back(vector());
  const auto face = std::make_shared<std::vector<int>>(std::vector<int>{3, 0, 1, 2});
  return std::make_unique<fcl::CollisionObjectd>(std::make_shared<fcl::Convexd>(points, 1, face));
}

int main() {
  std::cout << "fcl " FCL_VERSION ", g++ " __VERSION__ << '\n';
  std::cout.precision(17);
  std::string kind;
  const auto solid = [&] { return kind == "box" ? box() : hull(); };
  while (std::cin >> kind) {
    const bool depth = kind == "depth";
    std::cin >> kind;
    const auto a = solid();
    std::cin >> kind;
    const auto b = solid();
    fcl::CollisionResultd collision;
    fcl::DistanceResultd distance;
    fcl::DistanceRequestd ask(false, depth);
    ask.distance_tolerance = 1e-9;
    const bool collide = fcl::collide(a.get(), b.get(), fcl::CollisionRequestd(), collision) > 0;
    fcl::distance(a.get(), b.get(), ask, distance);
    std::cout << collide << ' ' << distance.min_distance << '\n';
  }
}
