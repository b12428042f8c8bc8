#pragma once

#include <cstddef>

namespace swardwalk::server {

/// Bytes of memory that many share. Use from one thread.
class Budget {
 public:
  explicit Budget(std::size_t most) : most_(most) {}
  Budget(const Budget&) = delete;
  Budget& operator=(const Budget&) = delete;

  std::size_t taken() const { return taken_; }

  /// What one of them has; given back at its end. The budget must outlive it.
  class Share {
   public:
    explicit Share(Budget& budget) : budget_(budget) {}
    ~Share() { budget_.taken_ -= bytes_; }
    Share(const Share&) = delete;
    Share& operator=(const Share&) = delete;

    /// From now on `bytes` altogether, more or less than before; false, and as before, where
    /// the budget is spent.
    bool growTo(std::size_t bytes) {
      const std::size_t others = budget_.taken_ - bytes_;
      if (bytes > bytes_ && bytes > budget_.most_ - others) return false;
      budget_.taken_ = others + bytes;
      bytes_ = bytes;
      return true;
    }

   private:
    Budget& budget_;
    std::size_t bytes_ = 0;
  };

 private:
  std::size_t most_;
  std::size_t taken_ = 0;
};

}  // namespace swardwalk::server
