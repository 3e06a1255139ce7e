"""`python -m sitegen` is the same as `sitegen`."""

from sitegen.app.main import run

if __name__ == "__main__":
    run()
