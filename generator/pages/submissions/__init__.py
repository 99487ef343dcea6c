"""What is submitted to a reviewer, in words: values alone, from which a paper is laid out."""
