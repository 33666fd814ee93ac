// Mallow is a guided build assistant for keyboard-percussion mallet heads.
package main

func main() {}
