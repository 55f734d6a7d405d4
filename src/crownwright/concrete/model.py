"""The pour as planned. (Extended by the modules that fill it.)"""
