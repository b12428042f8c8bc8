#pragma once

#include <openssl/bio.h>
#include <openssl/evp.h>
#include <openssl/ssl.h>
#include <openssl/x509.h>

#include <memory>
#include <string>

namespace swardwalk::server {

/// Gives an OpenSSL object back to the library.
struct OpensslFree {
  void operator()(BIO* one) const { BIO_free(one); }
  void operator()(EVP_PKEY* one) const { EVP_PKEY_free(one); }
  void operator()(SSL* one) const { SSL_free(one); }
  void operator()(SSL_CTX* one) const { SSL_CTX_free(one); }
  void operator()(X509* one) const { X509_free(one); }
};

template <class Object>
using Openssl = std::unique_ptr<Object, OpensslFree>;

/// What the library says about its oldest error of this thread, which is forgotten then.
std::string opensslReason();

}  // namespace swardwalk::server
