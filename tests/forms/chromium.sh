# Sourced by run.sh: sees to it that a browser and its driver are there, as Debian packages them.
if ! command -v chromium > /dev/null || ! command -v chromedriver > /dev/null; then
    as_root=
    if [ "$(id -u)" -ne 0 ]; then as_root=sudo; fi
    $as_root apt-get update -qq
    DEBIAN_FRONTEND=noninteractive $as_root apt-get install -y -qq --no-install-recommends chromium chromium-driver > /dev/null
fi
