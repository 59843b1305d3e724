// Solves the networks on standard input with Ceres Solver and prints what it finds, as JSON: unknowns, covariance, seconds.
//
// What comes in, separated by white space: the number of cases; of each case, the number of readings, whether the level is known (0
// or 1), nine numbers of the rotation matrix "turn" by rows; of each reading, its kind, how many points it has, of each point its
// assembly and three coordinates, a direction, the value, the standard uncertainty.
//
// Assembly 0 holds still, 1 moves. The unknowns are those of solve.py: a rotation vector relative to "turn", the shift of the moving
// assembly's origin, slope and roll of the still one to level (unless known to be none), and the height of a level plane where one is
// read from. Everything starts as drawn. The model is written here, its derivatives are the library's (automatic); so are solver and
// covariance, and the clock is on these two alone: the best of three runs, on one thread.

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <iostream>
#include <string>
#include <utility>
#include <vector>

#include <Eigen/Dense>
#include <ceres/ceres.h>
#include <ceres/rotation.h>
#include <glog/logging.h>

namespace {

template <typename T>
using Three = Eigen::Matrix<T, 3, 1>;

// In the order of NAMES.
enum class Kind { distance, slope, relative, roll, height, rise, string, gap, difference, plumb };

const std::array<std::string, 10> NAMES = {"distance", "slope", "relative", "roll", "height",
                                           "rise", "string", "gap", "difference", "plumb"};

struct Point {
    bool moving;
    Eigen::Vector3d at;
};

struct Reading {
    Kind kind;
    std::vector<Point> points;
    Eigen::Vector3d along;
    double value, sigma;
};

struct Case {
    std::vector<Reading> readings;
    bool level_known, has_plane;
    Eigen::Matrix3d turn;
};

// Where the unknowns are kept; each a block of parameters.
struct Unknowns {
    double turn[3] = {0, 0, 0}, shift[3] = {0, 0, 0}, level[2] = {0, 0}, plane[1] = {0};
};

// What one reading would read, less what it read, by its standard uncertainty.
struct Residual {
    const Reading* reading;
    const Eigen::Matrix3d* turn;

    template <typename T>
    bool operator()(const T* turned, const T* shift, T* out) const {
        const T level[2] = {T(0), T(0)};
        return (*this)(turned, shift, level, out);
    }

    template <typename T>
    bool operator()(const T* turned, const T* shift, const T* level, T* out) const {
        const T plane[1] = {T(0)};
        return (*this)(turned, shift, level, plane, out);
    }

    template <typename T>
    bool operator()(const T* turned, const T* shift, const T* level, const T* plane, T* out) const {
        std::array<Three<T>, 4> p;
        for (size_t i = 0; i < reading->points.size(); ++i) {
            const Point& point = reading->points[i];
            if (!point.moving) {
                p[i] = point.at.cast<T>();
                continue;
            }
            const Three<T> at = (*turn * point.at).cast<T>();
            ceres::AngleAxisRotatePoint(turned, at.data(), p[i].data());
            p[i] += Eigen::Map<const Three<T>>(shift);
        }
        const T x = sin(level[0]), y = -sin(level[1]);
        const Three<T> up(x, y, sqrt(T(1) - x * x - y * y)), along = reading->along.cast<T>();
        const auto slope = [&up](const Three<T>& a, const Three<T>& b) { return asin((b - a).dot(up) / (b - a).norm()); };
        T read;
        switch (reading->kind) {
            case Kind::distance:
                read = (p[1] - p[0]).norm();
                break;
            case Kind::slope:
                read = slope(p[0], p[1]);
                break;
            case Kind::relative:
                read = slope(p[2], p[3]) - slope(p[0], p[1]);
                break;
            case Kind::roll:
                read = -slope(p[0], p[1]);
                break;
            case Kind::height:
                read = p[0].dot(up) - plane[0];
                break;
            case Kind::rise:
                read = (p[1] - p[0]).dot(up);
                break;
            case Kind::string: {
                const Three<T> right = up.cross(Three<T>(p[2] - p[1]));
                read = (p[0] - p[1]).dot(right) / right.norm();
                break;
            }
            case Kind::gap:
                read = (p[1] - p[0]).dot(along);
                break;
            case Kind::difference:
                read = (p[1] - p[0]).norm() - (p[3] - p[2]).norm();
                break;
            case Kind::plumb: {
                const Three<T> level_along = along - up * along.dot(up);
                read = (p[1] - p[0]).dot(level_along) / level_along.norm();
                break;
            }
        }
        *out = (read - T(reading->value)) / T(reading->sigma);
        return true;
    }
};

Case read_case() {
    Case found;
    int readings, points;
    double moving;
    std::cin >> readings >> found.level_known;
    for (int i = 0; i < 9; ++i) std::cin >> found.turn(i / 3, i % 3);
    for (int i = 0; i < readings; ++i) {
        Reading reading;
        std::string name;
        std::cin >> name >> points;
        const auto known = std::find(NAMES.begin(), NAMES.end(), name);
        CHECK(known != NAMES.end()) << "a reading of no kind: " << name;
        reading.kind = static_cast<Kind>(known - NAMES.begin());
        for (int j = 0; j < points; ++j) {
            Point point;
            std::cin >> moving >> point.at.x() >> point.at.y() >> point.at.z();
            point.moving = moving == 1;
            reading.points.push_back(point);
        }
        std::cin >> reading.along.x() >> reading.along.y() >> reading.along.z() >> reading.value >> reading.sigma;
        found.readings.push_back(reading);
    }
    const auto& all = found.readings;
    found.has_plane = std::any_of(all.begin(), all.end(), [](const Reading& reading) { return reading.kind == Kind::height; });
    return found;
}

void add(ceres::Problem& problem, const Case& of, const Reading& reading, Unknowns& at) {
    using ceres::AutoDiffCostFunction;
    Residual* residual = new Residual{&reading, &of.turn};
    const Kind kind = reading.kind;
    if (kind == Kind::height) {
        auto* cost = new AutoDiffCostFunction<Residual, 1, 3, 3, 2, 1>(residual);
        problem.AddResidualBlock(cost, nullptr, at.turn, at.shift, at.level, at.plane);
    } else if (of.level_known || kind == Kind::distance || kind == Kind::gap || kind == Kind::difference) {
        auto* cost = new AutoDiffCostFunction<Residual, 1, 3, 3>(residual);
        problem.AddResidualBlock(cost, nullptr, at.turn, at.shift);
    } else {
        auto* cost = new AutoDiffCostFunction<Residual, 1, 3, 3, 2>(residual);
        problem.AddResidualBlock(cost, nullptr, at.turn, at.shift, at.level);
    }
}

// From the start to the covariance; gives the seconds that it took.
double solve(const Case& of, Unknowns& at, Eigen::MatrixXd& covariance) {
    const Eigen::AngleAxisd start(Eigen::Matrix3d(of.turn.transpose()));
    Eigen::Map<Eigen::Vector3d>(at.turn) = start.angle() * start.axis();
    ceres::Problem problem;
    for (const Reading& reading : of.readings) add(problem, of, reading, at);
    if (of.level_known && of.has_plane) problem.SetParameterBlockConstant(at.level);
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_QR;
    options.num_threads = 1;
    options.logging_type = ceres::SILENT;
    // Nearly undamped from the first step: these problems start close by.
    options.initial_trust_region_radius = 1e12;
    options.max_trust_region_radius = 1e16;
    options.function_tolerance = options.gradient_tolerance = options.parameter_tolerance = 1e-15;
    std::vector<std::pair<double*, int>> blocks = {{at.turn, 3}, {at.shift, 3}};
    if (!of.level_known) blocks.push_back({at.level, 2});
    if (of.has_plane) blocks.push_back({at.plane, 1});
    std::vector<const double*> places;
    int size = 0;
    for (const auto& [place, length] : blocks) {
        places.push_back(place);
        size += length;
    }
    ceres::Covariance::Options how;
    how.algorithm_type = COVARIANCE;
    how.num_threads = 1;
    using Matrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    Matrix found(size, size);

    const auto begin = std::chrono::steady_clock::now();
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    ceres::Covariance of_all(how);
    CHECK(of_all.Compute(places, &problem)) << "no covariance";
    CHECK(of_all.GetCovarianceMatrix(places, found.data())) << "no covariance";
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
    CHECK(summary.IsSolutionUsable()) << summary.BriefReport();
    covariance = found;
    return took.count();
}

void print(const Case& of, const Unknowns& at, const Eigen::MatrixXd& covariance, double seconds) {
    std::vector<double> all(at.turn, at.turn + 3);
    all.insert(all.end(), at.shift, at.shift + 3);
    if (!of.level_known) all.insert(all.end(), at.level, at.level + 2);
    if (of.has_plane) all.push_back(at.plane[0]);
    const auto row = [](auto begin, size_t length, auto number) {
        for (size_t i = 0; i < length; ++i) std::printf("%s%.17g", i > 0 ? "," : "[", number(begin, i));
        std::printf("]");
    };
    std::printf("{\"unknowns\":");
    row(0, all.size(), [&all](int, size_t i) { return all[i]; });
    std::printf(",\"covariance\":[");
    for (size_t i = 0; i < all.size(); ++i) {
        if (i > 0) std::printf(",");
        row(i, all.size(), [&covariance](size_t r, size_t c) { return covariance(r, c); });
    }
    std::printf("],\"seconds\":%.17g}", seconds);
}

}  // namespace

int main(int, char** arguments) {
    google::InitGoogleLogging(arguments[0]);
    size_t cases;
    std::cin >> cases;
    std::printf("[");
    for (size_t i = 0; i < cases; ++i) {
        const Case of = read_case();
        Unknowns at;
        Eigen::MatrixXd covariance;
        double seconds = 1e9;
        for (int run = 0; run < 3; ++run) {
            at = Unknowns();
            seconds = std::min(seconds, solve(of, at, covariance));
        }
        CHECK(std::cin) << "case " << i << " ends in the middle";
        std::printf(i > 0 ? "," : "");
        print(of, at, covariance, seconds);
    }
    std::printf("]\n");
    return 0;
}
